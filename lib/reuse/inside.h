/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* inside.h: what the files of the reuse module share; not installed.
 *
 * The unknowns q of a regime: the logarithms of the factors on the film of each stage, on the soil
 * that comes and on the part of it that stays on the parts. After a change also how large it is and
 * how many loads later than `middle` it began, for the readings tell that only roughly. Where fresh
 * liquid was measured, how much more than stated it holds, in units of `fresh_unit`. When drag-out
 * is measured with the water shut, the logarithm of the factor on the bath's strength. An unknown
 * of which nothing is left open has no variance, and no fit looks at it.
 */
#ifndef DREGS_REUSE_INSIDE_H
#define DREGS_REUSE_INSIDE_H

#include "dregs/reuse.h"
#include "dregs/stage.h"

/* A share of a reading near zero would be no noise at all, and a meter's last digit does not get
 * finer there: shares are taken of at least this part of the mean reading. Our own choice. */
#define DREGS_LEAST_SHARE 0.1

enum {
    Q_SOIL,
    Q_ADHERING, /* of the soil that no stage takes off */
    Q_STRENGTH,
    Q_FRESH,
    Q_BEGIN,
    Q_CHANGE, /* of drag-out, soil and content the logarithm of a factor; of a flow the factor; of
                 dirty fresh liquid in units of `dirt_unit` */
    Q_WANDER, /* the logarithm of a factor on all films from `wander_at` on */
    Q_STAGE,  /* that of the first stage; one for each follows */
    Q_MOST = Q_STAGE + DREGS_LINE_STAGES
};

/* What is believed of the unknowns: a normal distribution. */
struct belief {
    double mean[Q_MOST];
    double cov[Q_MOST][Q_MOST];
};

/* Those with a variance. */
struct unknowns {
    unsigned count;
    unsigned char of[Q_MOST];
};
struct unknowns dregs_reuse_unknowns(const struct belief *belief);

/* What a line is taken to do otherwise than its file says. */
struct alteration {
    double drag_out;                    /* factor on the film that every stage leaves */
    double of_stage[DREGS_LINE_STAGES]; /* a further one on that of each stage */
    double soil;                        /* factor on the soil of the parts */
    double adhering;       /* a further one on the part of it that no stage takes off; where that is
                              a large share, on its odds */
    double strength;       /* factor on what the liquids of the washes hold */
    int flow_of;           /* stage whose flow is changed; -1: none, -2: of all stages */
    double flow;           /* factor on that flow */
    int dirty;             /* liquid that is not as clean as stated; -1: none */
    unsigned dirty_solute; /* what it holds in addition */
    double dirt;           /* kg/m3 of it */
    int fresh;             /* liquid whose own content was measured; -1: none */
    unsigned fresh_solute;
    double fresh_more; /* kg/m3 against what is stated: of either sign, to no less than 0 */
    const unsigned char *by_hand; /* for every stage, 1: its `dump every` is not followed;
                                     NULL: all are */
};

/* altered.c: one that changes nothing. */
struct alteration dregs_reuse_unaltered(void);
/* The line with a change, which it must outlive. DREGS_DOMAIN: a factor that is not above 0, or of
 * a flow below 0; dirt below 0; an index out of range. DREGS_BAD_DATA: the line cannot be so (a
 * load would drag out more than a tank holds). */
dregs_status dregs_reuse_altered(const dregs_line *line, const struct alteration *change,
                                 dregs_line **changed);

/* The line under certain unknowns, ready to march. */
struct engine {
    dregs_line *line;
    dregs_map *map;
    dregs_state *state;
    int64_t dumped[DREGS_LINE_STAGES]; /* per tank: after which load; 0 at first */
    /* from behind load `then_at` on in place of the first two; NULL: never */
    dregs_line *then_line;
    dregs_map *then_map;
    int64_t then_at;
};

struct regime {
    dregs_regime about;
    struct alteration settled; /* what earlier changes of flow and of fresh liquid left behind */
    struct belief before;      /* what is believed of its unknowns before its readings */
    struct belief after;
    struct engine start;   /* a moment before the change, under the regime before; of the first one:
                              none, it begins with the fresh start */
    size_t from;           /* the first reading after that moment */
    double late;           /* loads, one standard deviation of when it began */
    double middle;         /* the load after which it began, as far as is known beforehand */
    int64_t wander_at;     /* the load behind which all films wander off; 0: they do not */
    double chi;            /* left over by the fit, of the belief before too; 0: not fitted yet */
    struct regime *rivals; /* of the last one: what explains it about as well; each has the same
                              `start`, which is this one's */
    unsigned rival_count;
};

/* One meter in one stage. */
struct channel {
    unsigned stage;
    dregs_measured what;
    unsigned which;
    unsigned unit;      /* the last one used */
    double temperature; /* the last one stated */
    double clean;       /* what a calibration reads without a solute; 0 for all others. Shares are
                           taken of what is beyond: a refractive index is never near 0 */
    double mean;        /* of the readings beyond that, without their sign */
    double noise;       /* share, or absolute */
    int absolute;
    double freedom; /* degrees of it behind the noise; 0: given or assumed */
    int assumed;    /* too few readings to estimate it from */
    size_t used;
};

enum { CHANNELS_MOST = 32 };

struct dregs_reuse {
    const dregs_line *line;
    const dregs_readings *readings;
    dregs_reuse_request request;
    dregs_faults *faults;
    size_t count;
    dregs_heard_reading *heard;
    unsigned char *channel_of; /* per reading */
    struct channel channel[CHANNELS_MOST];
    unsigned channels;
    struct channel like; /* of a tank without one: the first that is read in a tank */
    unsigned char by_hand[DREGS_LINE_STAGES];
    double dirt_unit;
    int dirt_solute[DREGS_LINE_STAGES]; /* per liquid */
    int blind;                          /* no reading at all */
    int fresh;                          /* liquid that was measured fresh; -1: none */
    double fresh_unit;                  /* kg/m3 */
    int stopped; /* the stopped-flow measurement: no flow, strength unknown */
    struct regime regime[DREGS_REGIMES_MOST];
    unsigned regimes;
    struct belief behind[2]; /* room: beliefs are too large for the stack */
    struct regime ahead;     /* the last one as it goes on: its films may wander; owns nothing */
    dregs_reuse_basis basis;
    dregs_reuse_outlook answer;
    dregs_bounds *bounds; /* limits and targets of concentration; what `answer` may point to */
    char (*assumed)[256];
    unsigned assumed_count;
};

/* prior.c: fills in what is believed before the log. */
dregs_status dregs_reuse_believe(dregs_reuse *reuse);
/* 1: a load leaves the stage with a film. */
int dregs_reuse_has_film(const dregs_reuse *reuse, unsigned stage);
/* The last stage that a meter reads: of the films behind it no reading tells. */
unsigned dregs_reuse_last_read(const dregs_reuse *reuse);
/* The factors of a regime, and those before the log, as they are told. */
void dregs_reuse_tell_factors(dregs_reuse *reuse, struct regime *regime);
void dregs_reuse_tell_before(dregs_reuse *reuse);

/* fresh.c: which fresh liquid was measured, by readings at load 0 or of it alone, and how much that
 * is about. */
void dregs_reuse_set_up_fresh(dregs_reuse *reuse);
/* Belief of what it holds; nothing where no liquid was measured. */
void dregs_reuse_believe_fresh(const dregs_reuse *reuse, struct belief *belief);
/* kg/m3 that it holds by the unknowns of a regime, with the interval of that quantile. */
dregs_factor dregs_reuse_fresh_of(const dregs_reuse *reuse, const struct belief *after,
                                  double quantile);

dregs_status dregs_reuse_assume(dregs_reuse *reuse, const char *format, ...) DREGS_FORMAT(2, 3);

/* march.c */
void dregs_reuse_engine_clear(struct engine *engine);
/* The alteration that the unknowns of a regime stand for. */
struct alteration dregs_reuse_regime_alteration(const dregs_reuse *reuse,
                                                const struct regime *regime, const double *q);
/* The line as the unknowns of a regime say, at the moment `at` the regime began. */
dregs_status dregs_reuse_engine_at(const dregs_reuse *reuse, const struct regime *regime,
                                   const double *q, struct engine *engine);
/* Lets loads pass until `at` have. */
dregs_status dregs_reuse_engine_to(struct engine *engine, int64_t at);
/* Through readings from (inclusive) to (exclusive): `expected` has one value for each, NaN where
 * the meter cannot say. `engine` is at the first one when it begins and behind the last. */
dregs_status dregs_reuse_march(const dregs_reuse *reuse, struct engine *engine, size_t from,
                               size_t to, double *expected);
/* What a reading should show now. */
double dregs_reuse_reading_now(const struct engine *engine, const struct channel *channel,
                               double temperature);

/* fit.c: what is believed of a regime's unknowns after its readings up to `to`, and what is left
 * over. */
dregs_status dregs_reuse_fit(const dregs_reuse *reuse, struct regime *regime, size_t to);
/* What is expected at q, and how it changes with each of the unknowns (a row of as many for every
 * reading). */
dregs_status dregs_reuse_slopes(const dregs_reuse *reuse, const struct regime *regime,
                                const struct unknowns *unknowns, const double *q, size_t to,
                                double *expected, double *slopes);
/* As how many independent rows a reading counts: rows of one load share probe, calibration and
 * liquid, so that more than 16 count as 16. Our own choice. */
double dregs_reuse_rows_count(const dregs_reading *reading);
/* One standard deviation of a reading, from what is expected of it. */
double dregs_reuse_meter_sd(const dregs_reuse *reuse, size_t reading, double expected);

/* The quantile of what is believed of something whose variance the readings brought from `before`
 * to `after`: of the normal distribution where the scatter is given, of Student's where it is
 * estimated, as far as the readings have a part in it. */
double dregs_reuse_quantile(const dregs_reuse *reuse, double share, double after, double before);

/* censored.c: readings below what a meter detects or above what it shows. How far a reading is from
 * what is expected of it, in its standard deviations: of one of these the root of -2 ln of the
 * probability that it lies beyond, so that its square counts in a sum of squares as it does in the
 * likelihood. */
double dregs_reuse_left(const dregs_reading *reading, double expected, double sd);
/* How that changes with what is expected, per standard deviation: 1 of a reading; of a bound that
 * is far on the safe side next to nothing. */
double dregs_reuse_left_slope(const dregs_reading *reading, double expected, double sd);
/* How far off it is at the least, where its bound is that far off (standard deviations). */
double dregs_reuse_beyond(const dregs_reading *reading, double off);
/* The mean of what lies beyond a bound that is that far off; the share of what one reading teaches
 * that it teaches. */
double dregs_reuse_taught(const dregs_reading *reading, double off, double *share);
/* Whether the answer rests on bounds alone, and whether they tell anything. */
void dregs_reuse_tell_bounds(dregs_reuse *reuse);

/* noise.c: how much the meters scatter, from readings next to each other (`robust`) or from all
 * that is left over. */
dregs_status dregs_reuse_noise(dregs_reuse *reuse, int robust);

/* regime.c: what a belief of a regime is behind it: what changed with it is so from then on. */
void dregs_reuse_behind(const dregs_reuse *reuse, const struct regime *regime,
                        const struct belief *belief, struct belief *into);
/* Outliers and changes; fills in all regimes. */
dregs_status dregs_reuse_listen(dregs_reuse *reuse);

/* wander.c: fills in `ahead`, and lets what explains the last change as well wander too. */
dregs_status dregs_reuse_wander(dregs_reuse *reuse);

/* doubt.c: readings that the line can by no means give, before anything is learnt of them; and,
 * after the fit, whether it is one at all. Both fill in the doubt of the answer. */
dregs_status dregs_reuse_doubt_first(dregs_reuse *reuse);
void dregs_reuse_doubt_after(dregs_reuse *reuse);
/* What a reading would show in fresh liquid, and in one without any solute. */
void dregs_reuse_fresh_shows(const dregs_reuse *reuse, const dregs_reading *reading, double *fresh,
                             double *pure);

/* answer.c */
dregs_status dregs_reuse_answer_fill(dregs_reuse *reuse);
/* Loads at the last fill of a tank, as far as the log knows. */
int64_t dregs_reuse_last_fill(const dregs_reuse *reuse, unsigned stage);

/* reuse.c: an empty one with readings, meters and beliefs set up. */
dregs_status dregs_reuse_prepare(const dregs_line *line, const dregs_readings *readings,
                                 const dregs_reuse_request *request, dregs_reuse **reuse,
                                 dregs_faults *faults);

#endif
