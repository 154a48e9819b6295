/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_ensemble.c: random numbers, distributions, exact sums, counts, and a question asked of many
 * draws of a line.
 */
#include "check_main.h"
#include "dregs/residue.h"
#include "ensemble/inside.h"
#include "lines.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <stdlib.h>
#include <string.h>

/* ---- the generator ---- */

START_TEST(philox_gives_its_known_answers)
{
    /* the three vectors of philox4x32 with 10 rounds in the file kat_vectors that Random123 is
     * published with, compared with copies of that file; the next test has the equations */
    static const struct {
        uint32_t counter[4], key[2], word[4];
    } known[] = {
        {{0, 0, 0, 0}, {0, 0}, {0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8}},
        {{0xffffffff, 0xffffffff, 0xffffffff, 0xffffffff},
         {0xffffffff, 0xffffffff},
         {0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd}},
        {{0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344},
         {0xa4093822, 0x299f31d0},
         {0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1}},
    };
    uint32_t word[4];
    size_t i;

    for (i = 0; i < sizeof known / sizeof known[0]; i++) {
        dregs_ensemble_words(known[i].counter, known[i].key, word);
        ck_assert_mem_eq(word, known[i].word, sizeof word);
    }
    /* the low 52 of the upper bits of the first two words, by hand from the first vector */
    ck_assert(dregs_ensemble_uniform(0, 0, 0) ==
              ((double)0xe169c58d6627e + 0.5) / 4503599627370496);
}
END_TEST

/* Salmon, Moraes, Dror & Shaw, "Parallel random numbers: as easy as 1, 2, 3" (SC11, 2011), section
 * 3.3: two products of 64 bits in each of ten rounds, and a key that grows by constants. Written
 * from the paper, without Random123. */
static void philox_of_the_paper(const uint32_t counter[4], const uint32_t key[2], uint32_t word[4])
{
    uint32_t c[4] = {counter[0], counter[1], counter[2], counter[3]}, k[2] = {key[0], key[1]};
    int round;

    for (round = 0; round < 10; round++) {
        uint64_t one = UINT64_C(0xD2511F53) * c[0], two = UINT64_C(0xCD9E8D57) * c[2];
        c[0] = (uint32_t)(two >> 32) ^ c[1] ^ k[0];
        c[1] = (uint32_t)two;
        c[2] = (uint32_t)(one >> 32) ^ c[3] ^ k[1];
        c[3] = (uint32_t)one;
        k[0] += 0x9E3779B9u;
        k[1] += 0xBB67AE85u;
    }
    memcpy(word, c, sizeof c);
}

START_TEST(philox_is_that_of_the_paper)
{
    uint32_t seeds[6] = {0, 1, 2, 3, 4, 5}, word[4], expected[4];
    int i;

    for (i = 0; i < 10000; i++) { /* from one answer to the next question */
        dregs_ensemble_words(seeds, seeds + 4, word);
        philox_of_the_paper(seeds, seeds + 4, expected);
        ck_assert_mem_eq(word, expected, sizeof word);
        memcpy(seeds + (i % 3 ? 0 : 2), word, sizeof word);
    }
}
END_TEST

START_TEST(numbers_of_rows_and_draws_are_independent)
{
    enum { N = 100000 };
    double sum = 0, squares = 0, next = 0, row = 0, last = 0;
    int i;

    for (i = 0; i < N; i++) {
        double u = dregs_ensemble_uniform(7, (uint64_t)i, 3) - 0.5;
        sum += u;
        squares += u * u;
        next += u * last;
        row += u * (dregs_ensemble_uniform(7, (uint64_t)i, 4) - 0.5);
        last = u;
    }
    /* four standard errors of a mean of N: of u, u^2 and products of two u */
    ck_assert(fabs(sum / N) < 4 * sqrt(1 / 12.0 / N));
    ck_assert(fabs(squares / N - 1 / 12.0) < 4 * sqrt((1 / 80.0 - 1 / 144.0) / N));
    ck_assert(fabs(next / N) < 4 * sqrt(1 / 144.0 / N));
    ck_assert(fabs(row / N) < 4 * sqrt(1 / 144.0 / N));
}
END_TEST

/* ---- sums ---- */

START_TEST(sums_are_exact)
{
    struct exact sum = {0}, other = {0}, parts[3] = {{{0}, 0}};
    double small = 0x1p-1074;
    int i;

    /* what doubles lose */
    dregs_ensemble_add(&sum, 1e300);
    dregs_ensemble_add(&sum, 2.385);
    dregs_ensemble_add(&sum, small);
    dregs_ensemble_add(&sum, -1e300);
    dregs_ensemble_add(&sum, -2.385);
    ck_assert(dregs_ensemble_rounded(&sum) == small);
    /* (1 + e)^2 - 1 - 2 e = e^2, with e = 2^-30 + 2^-52 */
    memset(&sum, 0, sizeof sum);
    dregs_ensemble_add_square(&sum, 1 + 0x1p-30 + 0x1p-52);
    dregs_ensemble_add(&sum, -1);
    dregs_ensemble_add(&sum, -0x1p-29 - 0x1p-51);
    ck_assert(dregs_ensemble_rounded(&sum) == 0x1p-60 + 0x1p-81 + 0x1p-104);
    /* any order, any division: the same limbs */
    memset(&sum, 0, sizeof sum);
    for (i = 0; i < 3000; i++) {
        double value = ldexp(dregs_ensemble_uniform(1, (uint64_t)i, 1) - 0.5, i % 200 - 100);
        double back =
            ldexp(dregs_ensemble_uniform(1, (uint64_t)(2999 - i), 1) - 0.5, (2999 - i) % 200 - 100);
        dregs_ensemble_add(&sum, value);
        dregs_ensemble_add(&other, back);
        dregs_ensemble_add(&parts[i % 3], value);
    }
    dregs_ensemble_carry(&sum);
    dregs_ensemble_carry(&other);
    ck_assert_mem_eq(sum.limb, other.limb, sizeof sum.limb);
    dregs_ensemble_add_sum(&parts[2], &parts[0]);
    dregs_ensemble_add_sum(&parts[2], &parts[1]);
    ck_assert_mem_eq(sum.limb, parts[2].limb, sizeof sum.limb);
}
END_TEST

/* ---- bins ---- */

START_TEST(a_bin_holds_its_values)
{
    static const double values[] = {1, 1.0005, 2.385, 1e-30, 1e30, 0x1p-1074, 1.7e308};
    struct bins bins = {NULL, 0, 0};
    size_t i;
    int k;

    for (i = 0; i < sizeof values / sizeof values[0]; i++)
        for (k = -1; k <= 1; k += 2) {
            int64_t bin = dregs_ensemble_bin(k * values[i]);
            ck_assert(dregs_ensemble_within(bin, 0) <= k * values[i] * (1 + k * 1e-12));
            ck_assert(dregs_ensemble_within(bin, 1) >= k * values[i] * (1 - k * 1e-12));
        }
    ck_assert_int_eq(dregs_ensemble_bin(0), 0);
    ck_assert(dregs_ensemble_bin(-1) < dregs_ensemble_bin(-1e-9));
    ck_assert(dregs_ensemble_bin(-1e-9) < 0);
    for (k = -50; k <= 50; k++)
        ck_assert(dregs_ensemble_put(&bins, dregs_ensemble_bin(k * 2.385), 1));
    for (k = -50; k <= 50; k++) /* rank 1 is the lowest */
        ck_assert_near(dregs_ensemble_ranked(&bins, k + 51), k * 2.385, 1e-3, "rank of %d", k);
    dregs_ensemble_bins_free(&bins);
}
END_TEST

/* ---- distributions ---- */

#define HEAD                                                                                       \
    "item,property,value,unit,spread,with\ntray,kind,load\ntray,parts,1,1\ntray,area,100,cm2\n"    \
    "tray,interval,500,s\noil,kind,solute\n"
#define RINSE                                                                                      \
    "w,kind,liquid\nw,solvent,water\nr,kind,rinse\nr,volume,20,L\nr,liquid,w\nr,flow,9,L/h\n"

static dregs_faults faults;

static dregs_ensemble *ensemble_of(const dregs_line *line, uint64_t seed)
{
    dregs_ensemble *made = NULL;

    memset(&faults, 0, sizeof faults);
    ck_assert_int_eq(dregs_ensemble_new(line, DREGS_ASKED_ALL, seed, &made, &faults), DREGS_OK);
    return made;
}

/* Mean and standard deviation of a row, from its values over z (the trapezoidal rule converges
 * faster than any power for such functions). */
static void moments(const dregs_ensemble *ensemble, unsigned index, double *mean, double *sd)
{
    double sum = 0, squares = 0, z, h = 0.005;

    for (z = -9; z <= 9; z += h) {
        double weight = h * exp(-z * z / 2) / sqrt(2 * acos(-1));
        double value = dregs_ensemble_at(ensemble, index, z);
        sum += weight * value;
        squares += weight * value * value;
    }
    *mean = sum;
    *sd = sqrt(squares - sum * sum);
}

START_TEST(distributions_have_the_stated_moments)
{
    dregs_line *line =
        lines_read(HEAD "oil,on parts,2.4,mg,40%\n" RINSE "r,film,20,um,3\nr,removal,99.8,%,0.05\n"
                        "r,temperature,61.5,degC,2.5\n");
    dregs_ensemble *ensemble = ensemble_of(line, 1);
    static const dregs_distribution kinds[] = {DREGS_LOGNORMAL, DREGS_LOGNORMAL, DREGS_BETA,
                                               DREGS_NORMAL};
    unsigned i;

    ck_assert_uint_eq(dregs_ensemble_rows(ensemble), 4);
    for (i = 0; i < 4; i++) {
        const dregs_drawn *row = dregs_ensemble_row(ensemble, i);
        double mean, sd;
        ck_assert_int_eq((int)row->distribution, (int)kinds[i]);
        moments(ensemble, i, &mean, &sd);
        ck_assert_near(mean, row->mean, 1e-9, "mean of row %u", i);
        ck_assert_near(sd, row->sd, 1e-5, "standard deviation of row %u", i);
    }
    ck_assert(isnan(dregs_ensemble_at(ensemble, 0, NAN)));
    ck_assert(isnan(dregs_ensemble_at(ensemble, 4, 0)));
    ck_assert(isnan(dregs_ensemble_z(ensemble, 0, 4)));
    ck_assert_ptr_null(dregs_ensemble_row(ensemble, 4));
    dregs_ensemble_free(ensemble);
    lines_free(line);
}
END_TEST

START_TEST(a_beta_distribution_with_a_closed_form)
{
    /* exponents 2 and 1: mean 2/3, variance 1/18, the share below x is x^2 */
    dregs_drawn drawn = {.distribution = DREGS_BETA, .a = 2, .b = 1};
    double z;

    for (z = -6; z <= 6; z += 0.25)
        ck_assert_near(dregs_ensemble_value(&drawn, z), sqrt(gsl_cdf_ugaussian_P(z)), 1e-8, "z %g",
                       z);
}
END_TEST

START_TEST(what_cannot_be_drawn_is_refused)
{
    static const struct {
        const char *rows, *words;
    } cases[] = {
        {"r,film,20,um\nr,removal,99.8,%,5%\n",
         "removal of 'r': a share of 99.8 % cannot have a spread of 5%; the largest is 4.468 %"},
        {"r,film,20,um\nr,removal,100,%,1\n", "a share of 100 % cannot have a spread"},
        {"r,film,20,um\nr,evaporation,0,L/h,0.1\n", "a quantity of 0 L/h cannot have a spread"},
    };
    size_t i;

    for (i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char text[1024];
        dregs_ensemble *made = NULL;
        dregs_line *line;
        snprintf(text, sizeof text, HEAD RINSE "%s", cases[i].rows);
        line = lines_read(text);
        memset(&faults, 0, sizeof faults);
        ck_assert_int_eq(dregs_ensemble_new(line, DREGS_ASKED_ALL, 1, &made, &faults),
                         DREGS_BAD_DATA);
        ck_assert_ptr_null(made);
        ck_assert_uint_eq(faults.count, 1);
        ck_assert_uint_eq(faults.fault[0].line, 14);
        ck_assert_msg(strstr(faults.fault[0].text, cases[i].words) != NULL, "%s",
                      faults.fault[0].text);
        lines_free(line);
    }
}
END_TEST

START_TEST(rows_share_a_draw)
{
    dregs_line *line = lines_read(HEAD "oil,on parts,2.4,mg,40%\n" RINSE
                                       "r,film,20,um,10%,oil.on parts\nr,removal,60,%,5%,r.film\n"
                                       "r,temperature,61.5,degC,2.5\n");
    dregs_ensemble *ensemble = ensemble_of(line, 11);
    uint64_t draw;

    for (draw = 0; draw < 100; draw++) {
        double z = dregs_ensemble_z(ensemble, draw, 0);
        ck_assert(dregs_ensemble_z(ensemble, draw, 1) == z); /* by way of r.film too */
        ck_assert(dregs_ensemble_z(ensemble, draw, 2) == z);
        ck_assert(dregs_ensemble_z(ensemble, draw, 3) != z);
    }
    dregs_ensemble_free(ensemble);
    lines_free(line);
}
END_TEST

/* ---- intervals ---- */

/* How often the 95 % interval of a quantile holds the true one, which is `share` of a uniform
 * distribution that has been stretched to a lognormal one. */
START_TEST(intervals_hold_in_95_percent_of_repetitions)
{
    enum { TIMES = 1000, N = 1000 };
    static const double shares[] = {0.05, 0.5, 0.95};
    const double limit = exp(0.3 * 1.75); /* met by Phi(1.75) = 95.99 % */
    unsigned held[4] = {0, 0, 0, 0}, t, k;

    for (t = 0; t < TIMES; t++) {
        dregs_ensemble_result *result = dregs_ensemble_result_new(1, &limit, NULL);
        dregs_ensemble_estimate at;
        uint64_t i;
        ck_assert_ptr_nonnull(result);
        for (i = 0; i < N; i++) {
            double value = exp(0.3 * gsl_cdf_ugaussian_Pinv(dregs_ensemble_uniform(t, i, 1)));
            ck_assert(dregs_ensemble_take(result, i, DREGS_OK, &value));
        }
        for (k = 0; k < 3; k++) {
            double truth = exp(0.3 * gsl_cdf_ugaussian_Pinv(shares[k]));
            ck_assert_int_eq(dregs_ensemble_quantile(result, 0, shares[k], &at), DREGS_OK);
            ck_assert(at.low <= at.value && at.value <= at.high);
            held[k] += at.low <= truth && truth <= at.high;
        }
        ck_assert_int_eq(dregs_ensemble_met(result, 0, &at), DREGS_OK);
        held[3] += at.low <= gsl_cdf_ugaussian_P(1.75) && gsl_cdf_ugaussian_P(1.75) <= at.high;
        dregs_ensemble_result_free(result);
    }
    for (k = 0; k < 4; k++)
        ck_assert_msg(held[k] >= 930 && held[k] <= 970, "interval %u held %u times of 1000", k,
                      held[k]);
}
END_TEST

START_TEST(wilson_intervals)
{
    /* Newcombe, Stat. Med. 17 (1998) 857, table I, score method without continuity correction:
     * 81 of 263, 15 of 148, 0 of 20, 1 of 29; printed to four decimals (values from memory) */
    static const struct {
        uint64_t met, count;
        double low, high;
    } cases[] = {{81, 263, 0.2553, 0.3662},
                 {15, 148, 0.0624, 0.1605},
                 {0, 20, 0, 0.1611},
                 {1, 29, 0.0061, 0.1718}};
    size_t i;

    for (i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        dregs_ensemble_estimate share = dregs_ensemble_share(cases[i].met, cases[i].count);
        ck_assert(fabs(share.low - cases[i].low) < 0.51e-4);
        ck_assert(fabs(share.high - cases[i].high) < 0.51e-4);
    }
    ck_assert(isnan(dregs_ensemble_share(0, 0).value));
    ck_assert(isnan(dregs_ensemble_share(3, 2).value));
}
END_TEST

/* ---- lines ---- */

/* One rinse, fed and never dumped; what the parts bring is all that soils it. */
static dregs_line *single_tank(void)
{
    return lines_read(HEAD "oil,on parts,2.4,mg,40%\n" RINSE "r,film,20,um\n");
}

static dregs_status ask_worst(void *mine, const dregs_line *drawn, double *figures)
{
    dregs_map *map = NULL;
    dregs_worst worst;
    dregs_value soil;
    dregs_status status = dregs_map_new(drawn, &map);

    (void)mine;
    if (!status)
        status = dregs_residue_worst(map, DREGS_EVERY_SOLUTE, DREGS_NO_END, &worst);
    dregs_map_free(map);
    if (status)
        return status;
    figures[0] = worst.residue;
    ck_assert_int_eq(dregs_line_get(drawn, "oil", "on parts", &soil), DREGS_OK);
    figures[1] = soil.si > 2.4e-6 ? NAN : soil.si;
    return DREGS_OK;
}

static dregs_ensemble_request request_of(uint64_t draws, unsigned threads)
{
    dregs_ensemble_request request;

    dregs_ensemble_request_init(&request);
    request.draws = draws;
    request.threads = threads;
    request.figures = 2;
    request.ask = ask_worst;
    return request;
}

START_TEST(lognormal_in_lognormal_out)
{
    /* The residue is proportional to the soil: its logarithm is that of the soil and a constant,
     * which the line as it is stated gives. */
    dregs_line *line = single_tank();
    dregs_ensemble *ensemble = ensemble_of(line, 20);
    dregs_ensemble_request request = request_of(4000, 0);
    dregs_ensemble_result *result = NULL;
    dregs_ensemble_figure figure;
    dregs_ensemble_estimate at;
    const double s = sqrt(log1p(0.16)), shares[] = {0.05, 0.5, 0.95}, n = 4000;
    double stated[2], limits[2];
    int i;

    ck_assert_int_eq(ask_worst(NULL, line, stated), DREGS_OK);
    limits[0] = stated[0] * exp(0.5 * s - s * s / 2); /* met by Phi(0.5) */
    limits[1] = NAN;
    request.most = limits;
    ck_assert_int_eq(dregs_ensemble_run(ensemble, &request, &result), DREGS_OK);
    ck_assert_uint_eq(dregs_ensemble_count(result), 4000);
    ck_assert_uint_eq(dregs_ensemble_failed(result), 0);
    ck_assert_int_eq(dregs_ensemble_figure_of(result, 0, &figure), DREGS_OK);
    /* four standard errors; of the standard deviation from the lognormal's kurtosis, by
     * (k - 1) / 4n with k = e^(4 s^2) + 2 e^(3 s^2) + 3 e^(2 s^2) - 3 */
    ck_assert_near(figure.mean, stated[0], 4 * 0.4 / sqrt(n), "mean");
    {
        double k = exp(4 * s * s) + 2 * exp(3 * s * s) + 3 * exp(2 * s * s) - 3;
        ck_assert_near(figure.sd, 0.4 * stated[0], 4 * sqrt((k - 1) / 4 / n), "sd");
    }
    for (i = 0; i < 3; i++) {
        double z = gsl_cdf_ugaussian_Pinv(shares[i]);
        double truth = stated[0] * exp(s * z - s * s / 2);
        /* the standard error of ln(quantile): s sqrt(p (1 - p) / n) / phi(z) */
        double error =
            s * sqrt(shares[i] * (1 - shares[i]) / n) / exp(-z * z / 2) * sqrt(2 * acos(-1));
        ck_assert_int_eq(dregs_ensemble_quantile(result, 0, shares[i], &at), DREGS_OK);
        ck_assert_near(at.value, truth, 4 * error + 1e-3, "quantile %g", shares[i]);
    }
    ck_assert_int_eq(dregs_ensemble_met(result, 0, &at), DREGS_OK);
    ck_assert(fabs(at.value - gsl_cdf_ugaussian_P(0.5)) < 4 * sqrt(0.25 / n));
    ck_assert_int_eq(dregs_ensemble_met(result, 1, &at), DREGS_DOMAIN);
    /* a figure that some lines do not have: half of them, Phi(s / 2), do */
    ck_assert_int_eq(dregs_ensemble_figure_of(result, 1, &figure), DREGS_OK);
    ck_assert(fabs((double)figure.count / n - gsl_cdf_ugaussian_P(s / 2)) < 4 * sqrt(0.25 / n));
    dregs_ensemble_result_free(result);
    dregs_ensemble_free(ensemble);
    lines_free(line);
}
END_TEST

static void same(dregs_ensemble_result *one, dregs_ensemble_result *other)
{
    unsigned i;
    size_t c;

    ck_assert_uint_eq(one->count, other->count);
    for (i = 0; i < one->figures; i++) {
        struct figure *f = &one->figure[i], *g = &other->figure[i];
        dregs_ensemble_carry(&f->sum);
        dregs_ensemble_carry(&g->sum);
        dregs_ensemble_carry(&f->squares);
        dregs_ensemble_carry(&g->squares);
        ck_assert_mem_eq(f->sum.limb, g->sum.limb, sizeof f->sum.limb);
        ck_assert_mem_eq(f->squares.limb, g->squares.limb, sizeof f->squares.limb);
        ck_assert_mem_eq(&f->least, &g->least, sizeof f->least);
        ck_assert_mem_eq(&f->most, &g->most, sizeof f->most);
        ck_assert_uint_eq(f->bins.chunks, g->bins.chunks);
        for (c = 0; c < f->bins.chunks; c++)
            ck_assert_mem_eq(f->bins.chunk[c], g->bins.chunk[c], sizeof *f->bins.chunk[c]);
    }
}

START_TEST(threads_and_divisions_change_no_bit)
{
    dregs_line *line = single_tank();
    dregs_ensemble *ensemble = ensemble_of(line, 20);
    dregs_ensemble_request request = request_of(1000, 1);
    dregs_ensemble_result *whole = NULL, *other = NULL, *part = NULL;
    static const unsigned threads[] = {2, 7};
    size_t i;

    ck_assert_int_eq(dregs_ensemble_run(ensemble, &request, &whole), DREGS_OK);
    for (i = 0; i < 2; i++) {
        request.threads = threads[i];
        ck_assert_int_eq(dregs_ensemble_run(ensemble, &request, &other), DREGS_OK);
        same(whole, other);
        dregs_ensemble_result_free(other);
    }
    /* 700 to 1000, then 64 to 700, then 0 to 64 */
    other = NULL;
    for (i = 0; i < 3; i++) {
        static const uint64_t from[] = {700, 64, 0}, to[] = {1000, 700, 64};
        request.first = from[i];
        request.draws = to[i] - from[i];
        ck_assert_int_eq(dregs_ensemble_run(ensemble, &request, &part), DREGS_OK);
        if (other) {
            ck_assert(dregs_ensemble_join(other, part));
            dregs_ensemble_result_free(part);
        } else
            other = part;
    }
    same(whole, other);
    dregs_ensemble_result_free(other);
    dregs_ensemble_result_free(whole);
    dregs_ensemble_free(ensemble);
    lines_free(line);
}
END_TEST

/* ---- parts ---- */

struct written {
    size_t length;
    char bytes[1 << 20];
};

static int keep(void *user, const char *bytes, size_t length)
{
    struct written *text = user;

    ck_assert_uint_le(text->length + length, sizeof text->bytes);
    memcpy(text->bytes + text->length, bytes, length);
    text->length += length;
    return 0;
}

static int full(void *user, const char *bytes, size_t length)
{
    (void)user;
    (void)bytes;
    return length > 0;
}

static void write_part(const dregs_ensemble_result *result, struct written *text)
{
    const dregs_ensemble_part part = {1, 1, 1000, 20, 99};

    text->length = 0;
    ck_assert_int_eq(dregs_ensemble_write(result, &part, keep, text), DREGS_OK);
    ck_assert_int_eq(dregs_ensemble_write(result, &part, full, NULL), DREGS_IO);
}

START_TEST(parts_come_back_and_go_together_in_any_order)
{
    enum { PARTS = 5 };
    static struct written whole, part, merged;
    static const unsigned orders[][PARTS] = {{1, 2, 3, 4, 5}, {5, 3, 1, 2, 4}, {4, 5, 2, 1, 3}};
    dregs_line *line = single_tank();
    dregs_ensemble *ensemble = ensemble_of(line, 20);
    dregs_ensemble_request request = request_of(1000, 2);
    dregs_ensemble_result *result = NULL, *read = NULL, *sum;
    dregs_ensemble_part about;
    size_t o, k;

    ck_assert_int_eq(dregs_ensemble_run(ensemble, &request, &result), DREGS_OK);
    write_part(result, &whole);
    dregs_ensemble_result_free(result);
    for (o = 0; o < sizeof orders / sizeof orders[0]; o++) {
        uint64_t all = 0;
        for (sum = NULL, k = 0; k < PARTS; k++) {
            ck_assert_int_eq(
                dregs_ensemble_shard(1000, orders[o][k], PARTS, &request.first, &request.draws),
                DREGS_OK);
            all += request.draws;
            ck_assert_int_eq(dregs_ensemble_run(ensemble, &request, &result), DREGS_OK);
            write_part(result, &part);
            dregs_ensemble_result_free(result);
            ck_assert_int_eq(
                dregs_ensemble_read("part", part.bytes, part.length, &about, &read, &faults),
                DREGS_OK);
            ck_assert(about.shard == 1 && about.shards == 1 && about.draws == 1000 &&
                      about.seed == 20 && about.digest == 99);
            if (sum) {
                ck_assert_int_eq(dregs_ensemble_merge(sum, read), DREGS_OK);
                dregs_ensemble_result_free(read);
            } else
                sum = read;
        }
        ck_assert_uint_eq(all, 1000);
        write_part(sum, &merged);
        ck_assert_uint_eq(whole.length, merged.length);
        ck_assert_mem_eq(whole.bytes, merged.bytes, whole.length);
        dregs_ensemble_result_free(sum);
    }
    dregs_ensemble_free(ensemble);
    lines_free(line);
}
END_TEST

START_TEST(parts_that_are_cut_off_or_changed_are_refused)
{
    static struct written text;
    dregs_ensemble_result *result = dregs_ensemble_result_new(1, NULL, NULL), *read = NULL;
    dregs_ensemble_part about;
    double value = 2.385;
    uint64_t first, count;
    size_t i;

    ck_assert(dregs_ensemble_take(result, 0, DREGS_OK, &value));
    ck_assert(dregs_ensemble_take(result, 1, DREGS_NUMERIC, NULL));
    write_part(result, &text);
    dregs_ensemble_result_free(result);
    for (i = 0; i < text.length; i++) {
        ck_assert_int_eq(dregs_ensemble_read("p", text.bytes, i, &about, &read, NULL),
                         DREGS_BAD_DATA);
        text.bytes[i] ^= 1;
        ck_assert_int_eq(dregs_ensemble_read("p", text.bytes, text.length, &about, &read, NULL),
                         DREGS_BAD_DATA);
        text.bytes[i] ^= 1;
    }
    ck_assert_ptr_null(read);
    ck_assert_int_eq(dregs_ensemble_read("p", text.bytes, text.length, &about, &read, NULL),
                     DREGS_OK);
    ck_assert_uint_eq(dregs_ensemble_failed(read), 1);
    result = dregs_ensemble_result_new(2, NULL, NULL);
    ck_assert_int_eq(dregs_ensemble_merge(result, read), DREGS_DOMAIN);
    dregs_ensemble_result_free(result);
    dregs_ensemble_result_free(read);
    ck_assert_int_eq(dregs_ensemble_shard(10, 11, 11, &first, &count), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_ensemble_shard(10, 0, 2, &first, &count), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_ensemble_shard(10, 3, 2, &first, &count), DREGS_DOMAIN);
}
END_TEST

START_TEST(draws_that_cannot_be_are_counted)
{
    /* 1 part with a spread of 80 %: below 0.5 rounds to 0 parts, which no load has. ln of the
     * number is normal with s^2 = ln(1.64) and mean -s^2 / 2. */
    dregs_line *line = lines_read("item,property,value,unit,spread\ntray,kind,load\n"
                                  "tray,parts,1,1,80%\ntray,area,100,cm2\ntray,interval,500,s\n"
                                  "oil,kind,solute\noil,on parts,2,mg\n" RINSE "r,film,20,um\n");
    dregs_ensemble *ensemble = ensemble_of(line, 3);
    dregs_ensemble_request request = request_of(2000, 2);
    dregs_ensemble_result *result = NULL;
    dregs_ensemble_figure figure;
    dregs_ensemble_estimate at;
    const double s = sqrt(log(1.64)), limits[2] = {1e9, NAN};
    double expected = gsl_cdf_ugaussian_P((log(0.5) + s * s / 2) / s);
    dregs_status status;
    uint64_t draw, i;

    request.most = limits;
    ck_assert_int_eq(dregs_ensemble_run(ensemble, &request, &result), DREGS_OK);
    ck_assert_uint_eq(dregs_ensemble_count(result), 2000);
    ck_assert(fabs((double)dregs_ensemble_failed(result) / 2000 - expected) <
              4 * sqrt(expected * (1 - expected) / 2000));
    ck_assert_int_eq(dregs_ensemble_figure_of(result, 0, &figure), DREGS_OK);
    ck_assert_uint_eq(figure.count + dregs_ensemble_failed(result), 2000);
    ck_assert_int_eq(dregs_ensemble_met(result, 0, &at), DREGS_OK);
    ck_assert(at.value == (double)figure.count / 2000); /* one that failed has not met it */
    ck_assert(dregs_ensemble_first_failed(result, &draw, &status));
    ck_assert_int_eq(status, DREGS_DOMAIN);
    for (i = 0; i < draw; i++)
        ck_assert(dregs_ensemble_draw(ensemble, i, 0) >= 1);
    ck_assert(dregs_ensemble_draw(ensemble, draw, 0) < 1);
    dregs_ensemble_result_free(result);
    dregs_ensemble_free(ensemble);
    lines_free(line);
}
END_TEST

static int stop_after(void *user, uint64_t done, uint64_t draws)
{
    ck_assert_uint_le(done, draws);
    return done >= *(const uint64_t *)user;
}

START_TEST(a_run_ends_early_and_refuses_what_it_cannot)
{
    dregs_line *line = single_tank();
    dregs_ensemble *ensemble = ensemble_of(line, 20);
    dregs_ensemble_request request = request_of(DREGS_DRAWS_MOST, 2);
    dregs_ensemble_result *result = NULL;
    uint64_t enough = 100;

    request.progress = stop_after;
    request.user = &enough;
    ck_assert_int_eq(dregs_ensemble_run(ensemble, &request, &result), DREGS_OK);
    ck_assert_uint_ge(dregs_ensemble_count(result), enough);
    ck_assert_uint_lt(dregs_ensemble_count(result), 1000000);
    dregs_ensemble_result_free(result);
    result = NULL;
    request = request_of(0, 1);
    ck_assert_int_eq(dregs_ensemble_run(ensemble, &request, &result), DREGS_DOMAIN);
    request = request_of(1, DREGS_THREADS_MOST + 1);
    ck_assert_int_eq(dregs_ensemble_run(ensemble, &request, &result), DREGS_DOMAIN);
    request = request_of(1, 1);
    request.figures = 0;
    ck_assert_int_eq(dregs_ensemble_run(ensemble, &request, &result), DREGS_DOMAIN);
    request = request_of(1, 1);
    request.size = 0;
    ck_assert_int_eq(dregs_ensemble_run(ensemble, &request, &result), DREGS_DOMAIN);
    ck_assert_ptr_null(result);
    dregs_ensemble_free(ensemble);
    lines_free(line);
}
END_TEST

int main(void)
{
    const struct cases cases[] = {
        {"parts",
         {philox_gives_its_known_answers, philox_is_that_of_the_paper,
          numbers_of_rows_and_draws_are_independent, sums_are_exact, a_bin_holds_its_values,
          distributions_have_the_stated_moments, a_beta_distribution_with_a_closed_form,
          what_cannot_be_drawn_is_refused, rows_share_a_draw,
          intervals_hold_in_95_percent_of_repetitions, wilson_intervals}},
        {"lines",
         {lognormal_in_lognormal_out, parts_come_back_and_go_together_in_any_order,
          parts_that_are_cut_off_or_changed_are_refused, threads_and_divisions_change_no_bit,
          draws_that_cannot_be_are_counted, a_run_ends_early_and_refuses_what_it_cannot}},
    };

    gsl_set_error_handler_off();
    return run_cases("ensemble", cases, sizeof cases / sizeof cases[0]);
}
