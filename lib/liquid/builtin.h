/* builtin.h: the text of data/liquids.csv, put into the object code by embed.sh. */
#ifndef DREGS_LIQUID_BUILTIN_H
#define DREGS_LIQUID_BUILTIN_H

#include <stddef.h>

extern const unsigned char dregs_liquids_builtin[];
extern const size_t dregs_liquids_builtin_length;

#endif
