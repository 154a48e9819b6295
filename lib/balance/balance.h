/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* balance.h: what other rooms of the library use of the balance beyond dregs/balance.h; not
 * installed. How a map is made and kept is map.h, which stays inside.
 *
 * Per substance and load everything is a linear function of the vector z = (m_1 .. m_n, 1): the n
 * tank contents and the number one. With a ledger z also holds sums since the start, one for each
 * stream that the ledger keeps: z = (m_1 .. m_n, s_1 .. s_S, 1). Matrices are row-major, dim x dim,
 * and take z to z.
 *
 * A substance is a solute, in kg, or a liquid of the file, in m3 (see line/stage/stage.h).
 */
#ifndef DREGS_BALANCE_BALANCE_H
#define DREGS_BALANCE_BALANCE_H

#include "dregs/balance.h"
#include "dregs/stream.h"
#include "line/stage/stage.h"

#include <stddef.h>

/* ---- the streams of a substance (ledger.c) ---- */

/* The streams that are summed by the map itself: those before DREGS_STREAM_HELD_FIRST. */
enum { STREAMS = DREGS_STREAM_HELD_FIRST };

/* Which sums z holds, and where: the tanks, what came in, what went out, what went from stage to
 * stage, the buffers (see pass.c), the number one. */
struct ledger {
    size_t tanks, dim;
    size_t outs, within, buffers; /* the rows at which the groups begin; ins begin at `tanks` */
    unsigned short row[STREAMS][DREGS_LINE_STAGES]; /* of the sum, or LEDGER_NOWHERE */
};
enum { LEDGER_NOWHERE = 0xffff };

/* Every stream of every stage by itself, of a substance; with buffers for a liquid. */
void dregs_balance_ledger_stages(const dregs_line *line, unsigned substance, struct ledger *ledger);

/* What the clearing of one stage takes of a solute, and all else that leaves the line. */
void dregs_balance_ledger_cleared(const dregs_line *line, unsigned stage, struct ledger *ledger);

/* All that leaves the line in one sum behind the tanks: enough to hold powers to the conservation
 * of mass, and for a state that repeats itself. */
void dregs_balance_ledger_closed(const dregs_line *line, struct ledger *ledger);

/* ---- matrices of one substance, for who goes through a calendar with a ledger of his own ---- */

/* Time without loads passing, with constant volume rates. */
struct gap {
    double time;             /* s */
    const dregs_tank *tanks; /* the rates */
    int clearing;            /* 1: filters, skimmers and beds run */
};

/* What only the flows between tanks decide: unit contents, and their integrals over time. Kept from
 * one substance to the next, for most share their flows. */
struct integrals {
    size_t tanks;
    double *rates; /* n x n, 1/s */
    double *loss;  /* n, 1/s out of the line */
    double *now;   /* E: n x n */
    double *once;  /* J = integral of E, s */
    double *twice; /* K = integral of J, s2 */
    int known;     /* rates are those the integrals belong to */
};
dregs_status dregs_balance_integrals_new(size_t tanks, struct integrals *integrals);
void dregs_balance_integrals_free(struct integrals *integrals);

/* The gap's matrix, dim x dim. */
dregs_status dregs_balance_interval(const dregs_line *line, unsigned substance,
                                    const struct gap *gap, const struct ledger *ledger,
                                    struct integrals *integrals, double *interval);

/* One load and the interval behind it, dim x dim. */
dregs_status dregs_balance_load_matrix(const dregs_line *line, unsigned substance,
                                       const struct ledger *ledger, struct integrals *integrals,
                                       double *load);

/* The load after `done` after which something is dumped next; UINT64_MAX: none. */
uint64_t dregs_balance_dump_next(const dregs_line *line, uint64_t done);
/* Dumps what is due after load `done`, on each of the `columns` columns of z (dim x columns). */
void dregs_balance_dump(const dregs_line *line, unsigned substance, uint64_t done,
                        const struct ledger *ledger, double *z, size_t columns);

/* What a dump does, for who does the same one often: a share of one row goes to another and is
 * noted in a third; without `from` a mass is added. LEDGER_NOWHERE: none. */
struct dump_step {
    unsigned short from, to, note;
    double share, mass; /* mass of the substance, see above */
};
struct dump_steps {
    unsigned count;
    struct dump_step *step;
};
/* Of what is due after load `done`. Cleared by the caller also after a failure.
 * \return DREGS_OK, DREGS_NO_MEMORY. */
dregs_status dregs_balance_dump_steps(const dregs_line *line, unsigned substance, uint64_t done,
                                      const struct ledger *ledger, struct dump_steps *steps);
void dregs_balance_dump_by_steps(const struct dump_steps *steps, size_t dim, double *z,
                                 size_t columns);
void dregs_balance_dump_steps_clear(struct dump_steps *steps);

/* z = a z, z being dim x columns; spare has the size of z. */
void dregs_balance_multiply_in_place(const double *a, double *z, size_t dim, size_t columns,
                                     double *spare);
/* A matrix of the closed ledger without the row and column of its one sum. */
void dregs_balance_leave_out_sum(size_t tanks, const double *from, double *to);
/* The z of n + 1 that a map leaves as it is: the map as n + 2 rows of n + 1, by the closed ledger.
 * \param fresh  n contents, of tanks in which nothing moves.
 * \return DREGS_OK; DREGS_NO_STEADY (something has no way out); DREGS_NO_MEMORY. */
dregs_status dregs_balance_repeats(size_t tanks, const double *map, const double *fresh, double *z);
/* Makes each column of a matrix (dim x columns) add up again: what is in a tank, its column, is
 * afterwards in some tank or has gone out; with the sums of what came in, the last column likewise
 * to that. The columns between are left as they are. */
void dregs_balance_conserve(double *a, const struct ledger *ledger, size_t columns);

/* ---- a map without sums, z of n + 1, for who goes from load to load in his own order ---- */

/* z of the fresh start. */
const double *dregs_balance_map_fresh(const dregs_map *map, unsigned solute);
/* 1: what is in the tanks of two solutes goes the same ways in the same shares, at every load and
 * dump. What comes in may differ. */
int dregs_balance_map_alike(const dregs_map *map, unsigned one, unsigned other);
/* The matrix of a whole period, dumps included.
 * \return DREGS_OK, DREGS_NUMERIC, DREGS_NO_MEMORY. */
dregs_status dregs_balance_map_whole_period(const dregs_map *map, unsigned solute,
                                            const double **matrix);
/* Takes z (n + 1 x columns) through load `done` + 1 and the dumps after it; spare has its size. */
void dregs_balance_map_one_load(const dregs_map *map, unsigned solute, double *z, double *spare,
                                size_t columns, uint64_t done);
/* Takes z (one column) from `done` loads to `until`, however far. */
dregs_status dregs_balance_map_advance(const dregs_map *map, unsigned solute, double *z,
                                       uint64_t done, uint64_t until);

/* Adds to `fresh`, one per tank, what a m3 of the liquid holds that a dumped tank is filled with.
 */
void dregs_balance_map_fills(const dregs_map *map, unsigned solute, double *fresh);
/* Dumps what is due after load `done`. z, n + 1, may be that of several solutes that go alike,
 * added up, but for the number one behind it; `fresh` then is, too. */
void dregs_balance_map_dump(const dregs_map *map, uint64_t done, const double *fresh, double *z);

/* How many powers of the load's map there are: 1, 2, 4 loads and so on. */
unsigned dregs_balance_map_powers(const dregs_map *map);
/* Adds to `brought`, powers x n, what comes into each tank over the loads of each power, whatever
 * is in the tanks. */
void dregs_balance_map_brings(const dregs_map *map, unsigned solute, double *brought);
/* The n contents z 2^power loads later, no dump among them, all of one kind. They may be those of
 * several solutes that go alike, added up, as `brought` then is. NULL for `brought`: a change of
 * the contents, which nothing is brought to. */
void dregs_balance_map_leap(const dregs_map *map, unsigned solute, const double *brought,
                            unsigned power, const double *z, double *into);
/* What a row of the n contents becomes for a change of them that is passed on by each of so many
 * loads without a dump: row (1 + M + ... + M^(loads - 1)) for the loads of each power, powers x n.
 */
void dregs_balance_map_gather(const dregs_map *map, unsigned solute, const double *row,
                              double *gathered);

/* ---- values that differ from load to load (scatter.c) ---- */

typedef struct dregs_scatter dregs_scatter;

/* Of one solute, or with -1 of all together, on the line of `map`, which must outlive it.
 * \return DREGS_OK, DREGS_NO_MEMORY, DREGS_OUT_OF_RANGE (more tanks or dumps than can be followed).
 */
dregs_status dregs_balance_scatter_new(const dregs_map *map, int solute, dregs_scatter **scatter);
void dregs_balance_scatter_free(dregs_scatter *scatter);
/* A load as it may be: its map, of a line with the same tanks, solutes, dumps and kinds of loads;
 * what is asked of the load in question as rows of n + 1, a solute behind the other; and its
 * weight. All weights add up to 1. */
void dregs_balance_scatter_add(dregs_scatter *scatter, double weight, const dregs_map *map,
                               const double *rows);
/* Mean and standard deviation of what is asked, at a load from the fresh start, or, `repeats`, at
 * that load of a period once the moments repeat themselves. Once, after all are added.
 * \return DREGS_OK, DREGS_NUMERIC (also where nothing repeats itself), DREGS_NO_MEMORY. */
dregs_status dregs_balance_scatter_at(dregs_scatter *scatter, uint64_t load, int repeats,
                                      double *mean, double *sd);

const dregs_map *dregs_balance_state_map(const dregs_state *state);
/* The map of the kind that the next load is of. */
const dregs_map *dregs_balance_state_next_map(const dregs_state *state);
/* The n + 1 values of a solute, the last of them 1; those of the next solute stand behind them. */
double *dregs_balance_state_z(dregs_state *state, unsigned solute);
const double *dregs_balance_state_masses(const dregs_state *state);
/* What the next load leaves of film and trapped liquid, and of soil that no stage took off, kg per
 * m2 of part, solute by solute. Returns how many there are. */
unsigned dregs_balance_state_left(const dregs_state *state, double *film, double *adhering);
/* The first of the two, of loads of one kind, as a row of n + 1. */
const double *dregs_balance_map_left(const dregs_map *map, unsigned solute);
/* The second; NaN of loads of several kinds. */
double dregs_balance_map_adhering(const dregs_map *map, unsigned solute);
/* Brings a state to the moment before a load that is not behind it: steps where that is near, leaps
 * where it is far. \return DREGS_OK; as dregs_state_before. */
dregs_status dregs_balance_state_reach(dregs_state *state, uint64_t load);
/* Puts a state where it was not stepped to: z of all solutes, after `done` loads. */
void dregs_balance_state_put(dregs_state *state, const double *z, uint64_t done);

#endif
