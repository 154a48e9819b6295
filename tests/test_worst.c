/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_worst.c: the worst load from the steady state alone, against the search that looks at every
 * phase of every period of a grid: the same to the last bit.
 */
#include "check_main.h"
#include "lines.h"
#include "residue/residue.h"

static struct lines_text text;

/* Does the fresh start hold no more of anything than the steady state? */
static int begins_below(const dregs_map *map)
{
    dregs_state *fresh = lines_state(map), *steady = lines_state(map);
    int below = dregs_state_periodic(steady) == DREGS_OK;
    unsigned s, t;

    for (s = 0; s < dregs_line_solutes(dregs_map_line(map)); s++)
        for (t = 0; t < dregs_line_tanks(dregs_map_line(map)); t++)
            below = below && dregs_state_mass(fresh, s, t) <= dregs_state_mass(steady, s, t);
    dregs_state_free(fresh);
    dregs_state_free(steady);
    return below;
}

/* \return 1: the long run is the worst. */
static unsigned agree(const dregs_map *map, int solute, unsigned number)
{
    static const uint64_t loads[] = {DREGS_NO_END, 1000, 300000};
    dregs_worst quick, full;
    unsigned i, long_run = 0;

    for (i = 0; i < sizeof loads / sizeof loads[0]; i++) {
        ck_assert_int_eq(dregs_residue_worst(map, solute, loads[i], &quick), DREGS_OK);
        ck_assert_int_eq(dregs_residue_worst_of_all(map, solute, loads[i], &full), DREGS_OK);
        ck_assert_msg(quick.residue == full.residue, "line %u, solute %d: %.17g, all %.17g", number,
                      solute, quick.residue, full.residue);
        ck_assert_uint_eq(quick.load, full.load);
        ck_assert_int_eq(quick.in_the_long_run, full.in_the_long_run);
        long_run += full.in_the_long_run != 0;
    }
    return long_run;
}

START_TEST(the_quick_search_finds_what_the_full_one_finds)
{
    unsigned number, below = 0, long_run = 0, other = 0;
    int solute;

    for (number = 61000; number < 61400; number++) {
        dregs_line *line = lines_random(number, &text, NULL);
        dregs_map *map = lines_map(line);
        int is_below = begins_below(map);
        for (solute = DREGS_EVERY_SOLUTE; solute < (int)dregs_line_solutes(line); solute++) {
            unsigned found = agree(map, solute, number);
            below += is_below && found;
            long_run += found;
            other += !found;
        }
        dregs_map_free(map);
        lines_free(line);
    }
    printf("# %u long run, of which %u by lines below; %u other\n", long_run, below, other);
    /* both ways are taken often, else the comparison says little */
    ck_assert_uint_ge(below, 100);
    ck_assert_uint_ge(other, 200);
}
END_TEST

int main(void)
{
    const struct cases cases[] = {
        {"the worst load", {the_quick_search_finds_what_the_full_one_finds}}};

    return run_cases("worst", cases, 1);
}
