/* SPDX-License-Identifier: GPL-3.0-or-later */
/* inside.h: what the files of the reuse module share; not installed.
 *
 * The unknowns q of a regime: the logarithms of the factors on drag-out and on soil; after a change
 * also how many loads later than `middle` it began, for the readings tell that only roughly; and,
 * where the regime is one of another flow or of dirty fresh liquid, how much that is: the factor on
 * the flow, or the dirt in units of `dirt_unit`. Where the tank at once holds something else, the
 * third is the logarithm of that factor. Where fresh liquid was measured, the last is how much more
 * than stated it holds, in units of `fresh_unit`; those between that a regime has not are idle.
 * When drag-out is measured with the water shut it is the logarithm of the factor on the bath's
 * strength.
 */
#ifndef DREGS_REUSE_INSIDE_H
#define DREGS_REUSE_INSIDE_H

#include "dregs/reuse.h"
#include "dregs/stage.h"

/* A share of a reading near zero would be no noise at all, and a meter's last digit does not get
 * finer there: shares are taken of at least this part of the mean reading. Our own choice. */
#define DREGS_LEAST_SHARE 0.1

enum {
    Q_DRAG_OUT,
    Q_SOIL,
    Q_BEGIN,
    Q_LEVEL = Q_BEGIN,
    Q_STRENGTH = Q_BEGIN,
    Q_EXTRA,
    Q_FRESH,
    Q_MOST
};

/* What is believed of the unknowns: a normal distribution. */
struct belief {
    unsigned count;
    double mean[Q_MOST];
    double cov[Q_MOST][Q_MOST];
};

/* What a line is taken to do otherwise than its file says. */
struct alteration {
    double drag_out;       /* factor on the film that every stage leaves */
    double of_stage[DREGS_LINE_STAGES]; /* a further one on that of each stage */
    double soil;           /* factor on the soil of the parts */
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
};

struct regime {
    dregs_regime about;
    struct alteration settled; /* what earlier changes of flow and of fresh liquid left behind */
    struct belief before;      /* what is believed of its unknowns before its readings */
    struct belief after;
    struct engine start; /* a moment before the change, under the regime before; of the first one:
                            none, it begins with the fresh start */
    size_t from;         /* the first reading after that moment */
    double late;         /* loads, one standard deviation of when it began */
    double middle;       /* the load after which it began, as far as is known beforehand */
};

/* One meter in one stage. */
struct channel {
    unsigned stage;
    dregs_measured what;
    unsigned which;
    unsigned unit;      /* the last one used */
    double temperature; /* the last one stated */
    double mean;        /* of the readings, without their sign */
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
    unsigned char by_hand[DREGS_LINE_STAGES];
    double dirt_unit;
    int dirt_solute[DREGS_LINE_STAGES]; /* per liquid */
    int blind;                          /* no reading at all */
    int fresh;                          /* liquid that was measured fresh; -1: none */
    double fresh_unit;                  /* kg/m3 */
    int stopped; /* the stopped-flow measurement: no flow, strength unknown */
    struct regime regime[DREGS_REGIMES_MOST];
    unsigned regimes;
    dregs_reuse_basis basis;
    dregs_reuse_outlook answer;
    dregs_bounds *bounds; /* limits and targets of concentration; what `answer` may point to */
    char (*assumed)[256];
    unsigned assumed_count;
};

/* fresh.c: which fresh liquid was measured, by readings at load 0 or of it alone, and how much that
 * is about. */
void dregs_reuse_set_up_fresh(dregs_reuse *reuse);
/* Belief of what it holds, and of unknowns that are idle; nothing where no liquid was measured. */
void dregs_reuse_believe_fresh(const dregs_reuse *reuse, struct belief *belief);
/* Lets the unknowns that a regime has not, before that of fresh liquid, be idle. */
void dregs_reuse_idle(const dregs_reuse *reuse, struct belief *belief);
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

/* fit.c: what is believed of a regime's unknowns after its readings up to `to`; chi squared of the
 * readings and of the belief before into `chi` when not NULL. */
dregs_status dregs_reuse_fit(const dregs_reuse *reuse, struct regime *regime, size_t to,
                             double *chi);
/* What is expected at q, and how it changes with each unknown (rows of Q_MOST). */
dregs_status dregs_reuse_slopes(const dregs_reuse *reuse, const struct regime *regime,
                                const double *q, size_t to, double *expected, double *slopes);
/* As how many independent rows a reading counts: rows of one load share probe, calibration and
 * liquid, so that more than 16 count as 16. Our own choice. */
double dregs_reuse_rows_count(const dregs_reading *reading);
/* One standard deviation of a reading, from what is expected of it. */
double dregs_reuse_meter_sd(const dregs_reuse *reuse, size_t reading, double expected);

/* The quantile of what is believed of something whose variance the readings brought from `before`
 * to `after`: of the normal distribution where the scatter is given, of Student's where it is
 * estimated, as far as the readings have a part in it. */
double dregs_reuse_quantile(const dregs_reuse *reuse, double share, double after, double before);

/* noise.c: how much the meters scatter, from readings next to each other (`robust`) or from all
 * that is left over. */
dregs_status dregs_reuse_noise(dregs_reuse *reuse, int robust);

/* regime.c: outliers and changes; fills in all regimes. */
dregs_status dregs_reuse_listen(dregs_reuse *reuse);

/* doubt.c: readings that the line can by no means give, before anything is learnt of them; and,
 * after the fit, whether it is one at all. Both fill in the doubt of the answer. */
dregs_status dregs_reuse_doubt_first(dregs_reuse *reuse);
void dregs_reuse_doubt_after(dregs_reuse *reuse);

/* answer.c */
dregs_status dregs_reuse_answer_fill(dregs_reuse *reuse);

/* reuse.c: an empty one with readings, meters and beliefs set up. */
dregs_status dregs_reuse_prepare(const dregs_line *line, const dregs_readings *readings,
                                 const dregs_reuse_request *request, dregs_reuse **reuse,
                                 dregs_faults *faults);

#endif
