/* SPDX-License-Identifier: GPL-3.0-or-later */
/* map.h: the inside of a dregs_map; not installed.
 *
 * Per substance and load everything is a linear function of the vector z = (m_1 .. m_n, 1): the n
 * tank contents and the number one. With totals, z also holds sums since the start, as a ledger
 * says which: z = (m_1 .. m_n, s_1 .. s_S, 1). Between the two stands the closed form
 * z = (m_1 .. m_n, gone, 1), which only knows how much has left the line in all: enough to hold
 * powers to the conservation of mass, and quicker to multiply. Matrices are row-major, dim x dim,
 * and take z to z.
 *
 * A substance is a solute, in kg, or a liquid of the file, in m3: number s is solute s, number
 * (solutes + f) is liquid f. A liquid is carried by the same equations as a solute, with a fresh
 * content of 1 in itself and 0 in the others; what differs is said where it does.
 */
#ifndef DREGS_BALANCE_MAP_H
#define DREGS_BALANCE_MAP_H

#include "dregs/balance.h"
#include "dregs/stream.h"

#include <pthread.h>
#include <stddef.h>

/* The streams that are summed by the map itself: those before DREGS_STREAM_HELD_FIRST. */
enum { STREAMS = DREGS_STREAM_HELD_FIRST };

/* Which sums z holds, and where: the tanks, what came in, what went out, what went from stage to
 * stage, the buffers (see pass.c), the number one. */
struct ledger {
    size_t tanks, dim;
    size_t outs, within, buffers; /* the rows at which the groups begin; ins begin at `tanks` */
    unsigned short row[STREAMS][DREGS_LINE_STAGES]; /* 0: kept nowhere (row 0 is a tank) */
};

/* Rows of the sums of dregs_totals, behind the tanks. */
enum total {
    TOTAL_SOIL,
    TOTAL_FED,
    TOTAL_SPRAYED,
    TOTAL_REFILLED,
    TOTAL_OVERFLOW, /* outs from here on */
    TOTAL_RUNOFF,
    TOTAL_DUMPED,
    TOTAL_CLEARED,
    TOTAL_BLOWN_OFF,
    TOTAL_CARRIED,
    TOTALS
};

/* ledger.c */
void dregs_ledger_plain(const dregs_line *line, struct ledger *ledger);
void dregs_ledger_closed(const dregs_line *line, struct ledger *ledger);
/* The sums of dregs_totals, of a solute. */
void dregs_ledger_totals(const dregs_line *line, struct ledger *ledger);
/* Every stream of every stage by itself, of a substance; with buffers for a liquid. */
void dregs_ledger_stages(const dregs_line *line, unsigned substance, struct ledger *ledger);

/* Is the substance a liquid? And what one m3 of a fresh liquid holds of it. */
int dregs_is_liquid(const dregs_line *line, unsigned substance);
double dregs_fresh_content(const dregs_line *line, unsigned substance, unsigned fluid);

/* One load of one solute, dumps aside, for one of the forms of z. */
struct load_map {
    const struct ledger *ledger;
    size_t dim; /* of the ledger */
    unsigned tanks;
    double *load;    /* interval after pass */
    unsigned powers; /* how many of the next are there */
    double **power;  /* load^(2^j), as far as one dump period needs */
    double *period;  /* a whole dump period, dumps included; by dregs_period_fill */
};

/* What a load meets and carries, as rows of n + 1. */
struct pass_rows {
    double *film;     /* stages x (n + 1): the film's mass behind each stage */
    double *met;      /* stages x (n + 1): the tank's mass when the load is in, soil taken off */
    double *adhering; /* per stage, kg per load */
};

struct solute_map {
    struct load_map plain, closed;
    struct pass_rows rows;
    double *fresh;   /* n + 1: z of the fresh start */
    double *steady;  /* n + 1: z that a dump period leaves as it is */
    double *columns; /* plain.load by columns, each filled up with zeros to map->stride */
};

struct dregs_map {
    const dregs_line *line;
    struct ledger plain, closed, totals;
    unsigned tanks, stages, solutes;
    size_t stride; /* tanks, rounded up to a multiple of 4 */
    uint64_t period;
    struct solute_map *solute;
    /* What only some questions need is worked out when the first of them is asked: the maps of a
     * whole dump period and the steady state. */
    pthread_mutex_t lock;
    int period_known;
    dregs_status period_status; /* of working it out */
    int settles;                /* every solute has a steady z */
};

/* pass.c: the load through the stages, dim x dim. rows: NULL when nobody asks. */
dregs_status dregs_pass(const dregs_line *line, unsigned substance, const struct ledger *ledger,
                        double *pass, struct pass_rows *rows);

/* interval.c: time without loads passing, with constant volume rates. */
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
dregs_status dregs_integrals_new(size_t tanks, struct integrals *integrals);
void dregs_integrals_free(struct integrals *integrals);
/* The gap's matrix, dim x dim. */
dregs_status dregs_interval(const dregs_line *line, unsigned substance, const struct gap *gap,
                            const struct ledger *ledger, struct integrals *integrals,
                            double *interval);
/* The gap between two loads. */
struct gap dregs_between_loads(const dregs_line *line);

/* load_map.c: one load and the interval behind it, dim x dim. */
dregs_status dregs_load_matrix(const dregs_line *line, unsigned substance,
                               const struct ledger *ledger, struct integrals *integrals,
                               double *load, struct pass_rows *rows);

/* dump.c: the loads after which something is dumped, and the dump itself. */
uint64_t dregs_dump_next(const dregs_line *line, uint64_t done); /* UINT64_MAX: never */
/* Dumps what is due after load `done`, on each of the `columns` columns of z (dim x columns). */
void dregs_dump(const dregs_line *line, unsigned substance, uint64_t done,
                const struct ledger *ledger, double *z, size_t columns);
/* Dumps one tank, due or not, on a column without sums. */
void dregs_dump_by_hand(const dregs_line *line, unsigned solute, unsigned tank, double *z);
/* The volumes, m3, that each tank gives to the waste and takes fresh in the same dump. */
struct dump_volumes {
    double emptied[DREGS_LINE_STAGES], fresh[DREGS_LINE_STAGES];
};
void dregs_dump_volumes(const dregs_line *line, uint64_t done, struct dump_volumes *volumes);

/* matrix.c */
/* into = a z, z being dim x columns */
void dregs_multiply(const double *a, const double *z, size_t dim, size_t columns, double *into);
/* z = a z; spare has the size of z. */
void dregs_multiply_in_place(const double *a, double *z, size_t dim, size_t columns, double *spare);
/* Makes each column of a matrix (dim x columns) add up again: what is in a tank, its column, is
 * afterwards in some tank or has gone out; with the sums of what came in, the last column likewise
 * to that. The columns between are left as they are. */
void dregs_conserve(double *a, const struct ledger *ledger, size_t columns);
/* A closed matrix without the row and column of the one sum. */
void dregs_leave_out_sum(size_t tanks, const double *from, double *to);

/* load_map.c */
/* The load's map with all sums, and what a load meets (rows has room). Cleared by the caller also
 * after a failure, as the next two. */
dregs_status dregs_load_map_full(const dregs_map *map, unsigned solute, struct load_map *into,
                                 struct pass_rows *rows);
/* The closed one. */
dregs_status dregs_load_map_closed(const dregs_map *map, unsigned solute, struct load_map *into,
                                   struct pass_rows *rows);
/* The one without sums, from the closed one. */
dregs_status dregs_load_map_plain(const dregs_map *map, const struct load_map *closed,
                                  struct load_map *into);
/* Fills in `period`; the full one comes with it. */
dregs_status dregs_period_fill(const dregs_map *map, unsigned solute, struct load_map *load);
void dregs_load_map_clear(struct load_map *load);

/* advance.c: z (dim x columns), after `done` loads, to z after `until` loads; spare has its size.
 */
/* No further apart than one dump period. */
void dregs_walk(const dregs_map *map, unsigned solute, const struct load_map *load, double *z,
                double *spare, size_t columns, uint64_t done, uint64_t until);
/* However far, one column. */
dregs_status dregs_advance(const dregs_map *map, unsigned solute, const struct load_map *load,
                           double *z, uint64_t done, uint64_t until);
/* One load and the dumps after it. */
void dregs_one_load(const dregs_map *map, unsigned solute, const struct load_map *load, double *z,
                    double *spare, size_t columns, uint64_t done);

/* steady.c: the fixed point of a closed period map; fresh[i] where nothing moves in or out of
 * tank i. */
dregs_status dregs_fixed_point(const struct load_map *load, const double *fresh, double *z);

/* map.c: sees to it that the plain maps have their period and the steady state is known. */
dregs_status dregs_need_period(const dregs_map *map);
/* state.c */
struct dregs_state {
    const dregs_map *map;
    uint64_t done, due; /* loads passed; the one after which something is dumped next */
    double *z;          /* solutes x (n + 1) */
    double *spare;      /* stride */
};
/* Says how many loads have passed, where it was not stepped there. */
void dregs_state_set(dregs_state *state, uint64_t done);
/* The n + 1 values of a solute, the last of them 1. */
double *dregs_state_z(dregs_state *state, unsigned solute);

#endif
