/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_kinds.c: the balance of lines with loads of several kinds against a march load by load that
 * takes each load through the line of its kind alone: files of one kind each, whose balance
 * test_balance.c holds against an integration.
 */
#include "check_main.h"
#include "dregs/tally.h"
#include "dregs/use.h"
#include "mixes.h"

#include <string.h>

static struct mix mix;

static double in_tanks(const dregs_state *state, unsigned solute)
{
    double sum = 0;
    unsigned t;

    for (t = 0; t < dregs_line_tanks(mix.line); t++)
        sum += dregs_state_mass(state, solute, t);
    return sum;
}

/* Relative to each mass, and no finer than rounding of what is in the line. */
static double apart(const dregs_state *a, const dregs_state *b)
{
    double worst = 0;
    unsigned s, t;

    for (s = 0; s < dregs_line_solutes(mix.line); s++) {
        double all = in_tanks(b, s);
        for (t = 0; t < dregs_line_tanks(mix.line); t++) {
            double one = dregs_state_mass(a, s, t), other = dregs_state_mass(b, s, t);
            worst = fmax(worst, fabs(one - other) / fmax(fabs(other), 1e-15 * all + 1e-30));
        }
    }
    return worst;
}

static void films_agree(const dregs_state *state, const dregs_state *march, unsigned number)
{
    unsigned s, i;

    for (s = 0; s < dregs_line_solutes(mix.line); s++)
        for (i = 0; i < dregs_line_stages(mix.line); i++) {
            ck_assert_near(dregs_state_film(state, s, i), dregs_state_film(march, s, i), 1e-12,
                           "mix %u, film of %u behind %u", number, s, i);
            if (!isnan(dregs_state_met(march, s, i)))
                ck_assert_near(dregs_state_met(state, s, i), dregs_state_met(march, s, i), 1e-12,
                               "mix %u, %u met by %u", number, s, i);
            if (!isnan(dregs_state_concentration(march, s, i)))
                ck_assert_near(dregs_state_concentration(state, s, i),
                               dregs_state_concentration(march, s, i), 1e-12,
                               "mix %u, concentration of %u behind %u", number, s, i);
        }
}

START_TEST(stepping_is_the_march)
{
    unsigned number, load;

    for (number = 0; number < 120; number++) {
        dregs_state *state, *march;
        mix_make(number, &mix);
        state = lines_state(mix.map);
        march = lines_state(mix.of[0]);
        for (load = 1; load <= 100; load++) {
            march = mix_pass(&mix, march, load);
            films_agree(state, march, number);
            dregs_state_step(march);
            dregs_state_step(state);
            ck_assert_msg(apart(state, march) <= 1e-12, "mix %u, load %u: %g apart\n%s", number,
                          load, apart(state, march), mix.text.bytes);
        }
        dregs_state_free(state);
        dregs_state_free(march);
        mix_free(&mix);
    }
}
END_TEST

/* From where it is, within a cycle and a dump period or at their ends. */
START_TEST(leaping_is_stepping)
{
    unsigned number;

    for (number = 200; number < 280; number++) {
        struct lines_stream stream = {number, 0};
        dregs_state *stepped, *leapt;
        uint64_t target = 1;
        mix_make(number, &mix);
        stepped = lines_state(mix.map);
        leapt = lines_state(mix.map);
        while ((target += 1 + lines_below(&stream, target < 40 ? 9 : 900)) <= 3000) {
            while (dregs_state_next(stepped) < target)
                dregs_state_step(stepped);
            ck_assert_int_eq(dregs_state_before(leapt, target), DREGS_OK);
            ck_assert_msg(apart(leapt, stepped) <= 1e-11, "mix %u, load %lu: %g apart", number,
                          (unsigned long)target, apart(leapt, stepped));
        }
        dregs_state_free(stepped);
        dregs_state_free(leapt);
        mix_free(&mix);
    }
}
END_TEST

START_TEST(the_periodic_state_returns)
{
    unsigned number, settled = 0;
    unsigned long i;

    for (number = 300; number < 380; number++) {
        dregs_state *kept, *moved, *far;
        mix_make(number, &mix);
        ck_assert_uint_eq(dregs_line_period(mix.line) % dregs_line_cycle(mix.line), 0);
        kept = lines_state(mix.map);
        moved = lines_state(mix.map);
        far = lines_state(mix.map);
        if (!dregs_state_periodic(kept)) {
            settled++;
            ck_assert_int_eq(dregs_state_periodic(moved), DREGS_OK);
            for (i = 0; i < dregs_line_period(mix.line); i++)
                dregs_state_step(moved);
            ck_assert_msg(apart(moved, kept) <= 1e-10, "mix %u: %g off after a period", number,
                          apart(moved, kept));
            ck_assert_int_eq(
                dregs_state_before(far, 40000000 * (uint64_t)dregs_line_period(mix.line) + 1),
                DREGS_OK);
            ck_assert_msg(apart(far, kept) <= 1e-8, "mix %u: %g off in the long run", number,
                          apart(far, kept));
        }
        dregs_state_free(kept);
        dregs_state_free(moved);
        dregs_state_free(far);
        mix_free(&mix);
    }
    ck_assert_uint_ge(settled, 70);
}
END_TEST

START_TEST(totals_are_the_films_summed_and_nothing_is_lost)
{
    enum { LOADS = 300 };
    unsigned number, s, load;

    for (number = 400; number < 440; number++) {
        double films[DREGS_LINE_SOLUTES] = {0};
        dregs_state *state;
        dregs_totals t;
        mix_make(number, &mix);
        state = lines_state(mix.map);
        for (load = 0; load < LOADS; load++) {
            for (s = 0; s < dregs_line_solutes(mix.line); s++)
                films[s] += dregs_state_film(state, s, dregs_line_stages(mix.line) - 1);
            dregs_state_step(state);
        }
        for (s = 0; s < dregs_line_solutes(mix.line); s++) {
            double in, out;
            ck_assert_int_eq(dregs_map_totals(mix.map, s, LOADS, &t), DREGS_OK);
            ck_assert_near(t.carried, films[s], 1e-11, "mix %u, carried of %u", number, s);
            ck_assert_near(t.held_last, in_tanks(state, s), 1e-11, "mix %u, held", number);
            in = t.held_first + t.soil + t.fed + t.sprayed + t.refilled;
            out = t.held_last + t.overflow + t.runoff + t.dumped + t.cleared + t.blown_off +
                  t.carried;
            ck_assert_near(in, out, 1e-12, "mix %u, balance of %u", number, s);
        }
        dregs_state_free(state);
        mix_free(&mix);
    }
}
END_TEST

/* Volumes do not hang on what came before: the mean of all loads is that of the kinds. */
START_TEST(the_use_is_the_mean_of_the_kinds)
{
    unsigned number, i;

    for (number = 500; number < 580; number++) {
        dregs_use use, alone, mean = {0};
        mix_make(number, &mix);
        dregs_balance_use(mix.line, &use);
        for (i = 0; i < mix.cycle; i++) {
            dregs_balance_use(mix.alone[mix.order[i]], &alone);
            mean.bought += alone.bought / mix.cycle;
            mean.top_up += alone.top_up / mix.cycle;
            mean.to_drain += alone.to_drain / mix.cycle;
            mean.dumped += alone.dumped / mix.cycle;
            mean.dried += alone.dried / mix.cycle;
        }
        ck_assert_near(use.bought, mean.bought, 1e-12, "mix %u, bought", number);
        ck_assert_near(use.top_up, mean.top_up, 1e-12, "mix %u, topped up", number);
        ck_assert_near(use.to_drain, mean.to_drain, 1e-12, "mix %u, to drain", number);
        ck_assert_near(use.dumped, mean.dumped, 1e-12, "mix %u, dumped", number);
        ck_assert_near(use.dried, mean.dried, 1e-12, "mix %u, dried", number);
        mix_free(&mix);
    }
}
END_TEST

/* A tally of loads without a pause against the totals of the map, and what the loads bring against
 * the files of one kind, load by load. */
START_TEST(a_tally_of_all_kinds)
{
    unsigned number, s, load;

    for (number = 600; number < 640; number++) {
        dregs_tally_request request = {DREGS_SPAN_LOADS, 37 + 61 * (number % 7), 0};
        dregs_tally *tally = NULL;
        mix_make(number, &mix);
        ck_assert_int_eq(dregs_tally_new(mix.line, &request, &tally, NULL), DREGS_OK);
        for (s = 0; s < dregs_line_solutes(mix.line); s++) {
            double arrived = 0;
            dregs_totals t;
            ck_assert_int_eq(dregs_map_totals(mix.map, s, request.loads, &t), DREGS_OK);
            for (load = 1; load <= request.loads; load++) {
                const dregs_line *of = mix.alone[mix_kind(&mix, load)];
                dregs_value parts, mass;
                ck_assert_int_eq(dregs_line_get(of, dregs_line_load_name(of), "parts", &parts),
                                 DREGS_OK);
                ck_assert_int_eq(
                    dregs_line_get(of, dregs_line_solute_name(of, s), "on parts", &mass), DREGS_OK);
                arrived += parts.si * mass.si;
            }
#define ASKED(stream) dregs_tally_solute(tally, stream, s, DREGS_WHOLE, DREGS_WHOLE)
            ck_assert_near(ASKED(DREGS_STREAM_ARRIVED), arrived, 1e-12, "mix %u, arrives", number);
            ck_assert_near(ASKED(DREGS_STREAM_ARRIVED) - ASKED(DREGS_STREAM_ADHERING), t.soil,
                           1e-10, "mix %u, comes off", number);
            ck_assert_near(ASKED(DREGS_STREAM_SOIL), t.soil, 1e-11, "mix %u, soil", number);
            ck_assert_near(ASKED(DREGS_STREAM_LEFT), t.carried, 1e-11, "mix %u, left", number);
            ck_assert_near(ASKED(DREGS_STREAM_DUMPED), t.dumped, 1e-11, "mix %u, dumped", number);
            ck_assert_near(ASKED(DREGS_STREAM_DRAINED), t.overflow, 1e-11, "mix %u, drained",
                           number);
#undef ASKED
        }
        dregs_tally_free(tally);
        mix_free(&mix);
    }
}
END_TEST

/* Rows are those of a kind: a map of all kinds has none, and says so. */
START_TEST(rows_are_asked_of_a_kind)
{
    unsigned k;

    mix_make(7, &mix);
    ck_assert_ptr_null(dregs_map_film(mix.map, 0, 0));
    ck_assert_ptr_null(dregs_map_row(mix.map, 0, 0));
    ck_assert(isnan(dregs_map_adhering(mix.map, 0, 0)));
    ck_assert_ptr_null(dregs_map_of_kind(mix.map, mix.kinds));
    for (k = 0; k < mix.kinds; k++) {
        const dregs_map *of = dregs_map_of_kind(mix.map, k);
        ck_assert_ptr_eq(dregs_map_line(of), dregs_line_of_kind(mix.line, k));
        ck_assert_mem_eq(dregs_map_film(of, 0, 0), dregs_map_film(mix.of[k], 0, 0),
                         (dregs_line_tanks(mix.line) + 1) * sizeof(double));
    }
    ck_assert_ptr_eq(dregs_map_of_kind(mix.of[0], 0), mix.of[0]);
    mix_free(&mix);
}
END_TEST

int main(void)
{
    const struct cases cases[] = {
        {"balance",
         {stepping_is_the_march, leaping_is_stepping, the_periodic_state_returns,
          totals_are_the_films_summed_and_nothing_is_lost, the_use_is_the_mean_of_the_kinds,
          a_tally_of_all_kinds, rows_are_asked_of_a_kind}}};

    return run_cases("kinds", cases, sizeof cases / sizeof cases[0]);
}
