/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* map.h: the inside of a dregs_map; not installed.
 *
 * With a ledger z holds sums (see balance.h); a map keeps z in three forms. The plain one is the
 * tanks and the number one, the full one has the sums of dregs_totals, and between the two stands
 * the closed one, z = (m_1 .. m_n, gone, 1), which only knows how much has left the line in all:
 * enough to hold powers to the conservation of mass, and quicker to multiply.
 */
#ifndef DREGS_BALANCE_MAP_H
#define DREGS_BALANCE_MAP_H

#include "balance/balance.h"

#include <pthread.h>
#include <string.h>

/* Two sums at once, each as it would be by itself. */
typedef double double_pair __attribute__((vector_size(2 * sizeof(double))));

static inline double_pair pair_at(const double *from)
{
    double_pair two;

    memcpy(&two, from, sizeof two);
    return two;
}

static inline void put_pair(double *to, double_pair two)
{
    memcpy(to, &two, sizeof two);
}

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
void dregs_balance_ledger_plain(const dregs_line *line, struct ledger *ledger);
/* The sums of dregs_totals, of a solute. */
void dregs_balance_ledger_totals(const dregs_line *line, struct ledger *ledger);

/* One load of one solute, dumps aside, for one of the forms of z; where loads are of several kinds,
 * one of each. */
struct load_map {
    const struct ledger *ledger;
    size_t dim; /* of the ledger */
    unsigned tanks;
    double *load;    /* interval after pass, kinds x dim x dim */
    unsigned powers; /* how many of the next are there */
    double *power;   /* (the loads of a cycle)^(2^j), as far as one dump period needs */
    double *period;  /* a whole dump period, dumps included; by dregs_balance_period_fill */
};

static inline double *dregs_balance_power(const struct load_map *load, unsigned j)
{
    return load->power + j * load->dim * load->dim;
}

/* What a load meets and carries, as rows of n + 1. */
struct pass_rows {
    double *film;     /* stages x (n + 1): the film's mass behind each stage */
    double *trapped;  /* stages x (n + 1): that of trapped liquid beside it */
    double *met;      /* stages x (n + 1): the tank's mass when the load is in, soil taken off */
    double *adhering; /* per stage, kg per load */
};

struct solute_map {
    struct load_map plain, closed;
    const struct solute_map *like; /* one before it that differs in the last columns alone; NULL */
    struct pass_rows rows;
    double *left; /* n + 1: what of film and trapped liquid is left, kg per m2 of part; as rows */
    double adhering; /* of soil likewise */
    double *fresh;   /* n + 1: z of the fresh start */
    double *steady;  /* n + 1: z that a dump period leaves as it is */
    double *columns; /* plain.load by columns, each filled up with zeros to map->stride; of one kind
                        alone, as rows */
};

struct dregs_map {
    const dregs_line *line;
    unsigned tanks, stages, solutes;
    size_t stride; /* tanks, rounded up to a multiple of 4 */
    uint64_t period, cycle;
    unsigned powers;     /* of a cycle's map that one dump period needs */
    dregs_map **of_kind; /* of loads of several kinds the map of each; else NULL */
    struct solute_map *solute;
    double *room; /* of all solutes, one piece */
    /* What only some questions need is worked out when the first of them is asked: the maps of a
     * whole dump period and the steady state. */
    pthread_mutex_t lock;
    int period_known;
    dregs_status period_status;  /* of working it out */
    int settles;                 /* every solute has a steady z */
    struct ledger plain, closed; /* last: all before them begins as 0 */
};

/* pass.c: the load through the stages, dim x dim. rows: NULL when nobody asks; visit: NULL, or what
 * the visit of each stage does to the substance. */
dregs_status dregs_balance_pass(const dregs_line *line, unsigned substance,
                                const struct ledger *ledger, const struct stage_visit *visit,
                                double *pass, struct pass_rows *rows);
/* The last column alone, dim long, and the last columns of the rows. */
dregs_status dregs_balance_pass_last(const dregs_line *line, unsigned solute,
                                     const struct ledger *ledger, const struct stage_visit *visit,
                                     double *last, struct pass_rows *rows);
/* Do the visits take two solutes the same ways in the same shares? Soil and what is fresh, the last
 * column, may differ. */
int dregs_balance_visits_alike(const struct stage_visit *one, const struct stage_visit *other,
                               unsigned stages);

/* interval.c: the last column of the matrix of another solute that is not cleared otherwise, whose
 * integrals these are; it takes the place of the other's in its matrix. */
void dregs_balance_interval_last(const dregs_line *line, unsigned solute, const struct gap *gap,
                                 const struct ledger *ledger, const struct integrals *integrals,
                                 double *interval);
/* The gap between two loads. */
struct gap dregs_balance_between_loads(const dregs_line *line);

/* dump.c */
/* Dumps one tank, due or not, on a column without sums. */
void dregs_balance_dump_by_hand(const dregs_line *line, unsigned solute, unsigned tank, double *z);
/* The volumes, m3, that each tank gives to the waste and takes fresh in the same dump. */
struct dump_volumes {
    double emptied[DREGS_LINE_STAGES], fresh[DREGS_LINE_STAGES];
};
void dregs_balance_dump_volumes(const dregs_line *line, uint64_t done,
                                struct dump_volumes *volumes);

/* matrix.c */
/* into = a z, z being dim x columns */
void dregs_balance_multiply(const double *a, const double *z, size_t dim, size_t columns,
                            double *into);

/* load_map.c */
/* What the maps of the solutes of one line have in common, kept from one to the next: most go the
 * same ways in the same shares, and only the last column of theirs, what comes in, differs. */
struct common {
    struct integrals integrals;
    const struct solute_map *leader; /* the last one that was worked out whole; NULL: none yet */
    unsigned leads;                  /* its number */
    struct stage_visit *visits;      /* 2 x stages: those of the leader, those of the next solute */
    double *pass;                    /* dim x dim, dim as of the closed ledger */
    double *interval;                /* dim x dim */
};
dregs_status dregs_balance_common_new(const dregs_map *map, struct common *common);
void dregs_balance_common_free(struct common *common);
/* The powers 1, 2, 4 and so on of a cycle that one dump period needs. */
unsigned dregs_balance_powers_of(const dregs_map *map);
/* How many doubles one takes, and one that lies in them. */
size_t dregs_balance_load_map_size(const dregs_map *map, const struct ledger *ledger);
struct load_map dregs_balance_load_map_in(const dregs_map *map, const struct ledger *ledger,
                                          double *room);
/* The load's map with the sums of a ledger; the caller frees `into->load`, also after a failure.
 */
dregs_status dregs_balance_load_map_full(const dregs_map *map, unsigned solute,
                                         const struct ledger *ledger, struct load_map *into);
/* The closed one, the plain one and what a load meets, which have their room. */
dregs_status dregs_balance_load_map_fill(const dregs_map *map, unsigned solute,
                                         struct common *common, struct solute_map *into);
/* The two of loads of several kinds, from those of each. */
dregs_status dregs_balance_load_map_cycle(const dregs_map *map, unsigned solute,
                                          struct solute_map *into);
/* Fills in `period`; the full one comes with it. */
dregs_status dregs_balance_period_fill(const dregs_map *map, unsigned solute,
                                       struct load_map *load);

/* advance.c: z (dim x columns), after `done` loads, to z after `until` loads; spare has its size.
 */
/* No further apart than one dump period. */
void dregs_balance_walk(const dregs_map *map, unsigned solute, const struct load_map *load,
                        double *z, double *spare, size_t columns, uint64_t done, uint64_t until);
/* The same of one column, however many dumps there are; spare holds 4 dim. */
void dregs_balance_walk_far(const dregs_map *map, unsigned solute, const struct load_map *load,
                            double *z, double *spare, uint64_t done, uint64_t until);
/* How many loads, of `most`, whole cycles, to look at first for whether what was there before them
 * is forgotten; 0: there are too few dumps to ask. */
uint64_t dregs_balance_back(const dregs_map *map, uint64_t most);
/* One load, `done` before it, without what is dumped after it. */
void dregs_balance_one_load(const dregs_map *map, const struct load_map *load, double *z,
                            double *spare, size_t columns, uint64_t done);
/* However far, one column. */
dregs_status dregs_balance_advance(const dregs_map *map, unsigned solute,
                                   const struct load_map *load, double *z, uint64_t done,
                                   uint64_t until);

/* steady.c: the fixed point of a closed period map; fresh[i] where nothing moves in or out of
 * tank i. */
dregs_status dregs_balance_fixed_point(const struct load_map *load, const double *fresh, double *z);

/* map.c: sees to it that the plain maps have their period and the steady state is known. */
dregs_status dregs_balance_need_period(const dregs_map *map);

/* state.c */
struct dregs_state {
    const dregs_map *map;
    uint64_t done, due; /* loads passed; the one after which something is dumped next */
    double *z;          /* solutes x (n + 1) */
    double *other;      /* likewise: where the next load puts it, and the two change places */
    double *room;       /* of both, each with `stride` behind it */
};
/* Says how many loads have passed, where it was not stepped there. */
void dregs_balance_state_set(dregs_state *state, uint64_t done);

#endif
