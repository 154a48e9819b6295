/* version.c: the library's version. */
#include "dregs/dregs.h"

const char *dregs_version(void)
{
    return PACKAGE_VERSION;
}
