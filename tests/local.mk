# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# Check programs per module under the parallel harness with TAP, shell tests for the tools.
TEST_EXTENSIONS = .sh
LOG_DRIVER = env AM_TAP_AWK='$(AWK)' $(SHELL) $(top_srcdir)/build-aux/tap-driver.sh
SH_LOG_COMPILER = $(SHELL)
# the time of a test: with the sanitizers, on a busy machine
AM_TESTS_ENVIRONMENT = \
	CK_DEFAULT_TIMEOUT=300; export CK_DEFAULT_TIMEOUT; \
	XDG_CONFIG_HOME='$(abs_top_builddir)/no-settings'; export XDG_CONFIG_HOME; \
	DREGS_BUILD='$(abs_top_builddir)'; export DREGS_BUILD; \
	DREGS_SOURCE='$(abs_top_srcdir)'; export DREGS_SOURCE; \
	DREGS_CC='$(CC)'; export DREGS_CC; \
	DREGS_CXX='$(CXX)'; export DREGS_CXX; \
	DREGS_MANDOC='$(MANDOC)'; export DREGS_MANDOC; \
	DREGS_SANITIZE='$(SANITIZE)'; export DREGS_SANITIZE;

unit_tests = \
	tests/test_text \
	tests/test_number \
	tests/test_locale \
	tests/test_unit \
	tests/test_unit_peers \
	tests/test_csv tests/test_config tests/test_refused \
	tests/test_dates \
	tests/test_report tests/test_picture tests/test_curves \
	tests/test_page_dry tests/test_page_predict tests/test_page_reuse tests/test_page_tally \
	tests/test_sheet \
	tests/test_liquid tests/test_liquid_off tests/test_extend \
	tests/test_meter \
	tests/test_mixture \
	tests/test_film \
	tests/test_limits \
	tests/test_loads tests/test_warm \
	tests/test_law \
	tests/test_purchase \
	tests/test_line \
	tests/test_values \
	tests/test_balance tests/test_kinds tests/test_kinds_residue \
	tests/test_ensemble tests/test_draws tests/test_ensemble_liquids tests/test_accuracy tests/test_dry_doubt tests/test_predict_doubt \
	tests/test_size_doubt tests/test_tally_doubt \
	tests/test_residue tests/test_bound tests/test_capacity tests/test_compare tests/test_worst \
	tests/test_week tests/test_hangs tests/test_scatter tests/test_shares \
	tests/test_caution tests/test_cautions \
	tests/test_checks \
	tests/test_size \
	tests/test_size_several tests/test_size_more tests/test_size_proof tests/test_search \
	tests/test_use \
	tests/test_edit \
	tests/test_dry tests/test_dry_air \
	tests/test_evaporation tests/test_uptake \
	tests/test_readings tests/test_readings_more \
	tests/test_reuse \
	tests/test_reuse_changes \
	tests/test_reuse_factors \
	tests/test_reuse_kinds \
	tests/test_reuse_intervals tests/test_reuse_meters \
	tests/test_answer tests/test_ask tests/test_stack tests/test_extreme tests/test_beaker tests/test_grow tests/test_tally tests/test_answer_tally

shell_tests = \
	tests/ask.sh tests/recipes.sh tests/memory.sh tests/write.sh tests/abi.sh \
	tests/verbs.sh tests/tally-given.sh tests/install.sh tests/bootstrap.sh \
	tests/completions.sh tests/new.sh tests/check.sh tests/tally-law.sh \
	tests/tally-records.sh tests/tally-machines.sh tests/tally-plans.sh \
	tests/tally-wastes.sh tests/tally-site.sh tests/bad-input.sh tests/dialect.sh tests/config.sh \
	tests/by-hand.sh tests/by-hand-log.sh tests/tally-log.sh tests/predict.sh tests/week.sh \
	tests/compare.sh tests/kinds.sh \
	tests/examples.sh tests/shown.sh tests/headers.sh tests/json.sh tests/layers.sh \
	tests/names.sh tests/liquid.sh tests/beaker.sh tests/lint.sh tests/replay.sh \
	tests/size.sh tests/dry.sh tests/dry-doubt.sh tests/doubt.sh tests/tally-doubt.sh \
	tests/parts.sh tests/each.sh tests/cluster.sh tests/reuse.sh tests/reuse_fresh.sh \
	tests/reuse_meters.sh tests/reuse_no_log.sh tests/reuse_ranges.sh tests/reuse_slips.sh tests/tally.sh \
	tests/tally-drain.sh tests/tally-energy.sh tests/tally-instead.sh \
	tests/tally-calendar.sh tests/tally-units.sh tests/tally-form.sh tests/cautions.sh tests/browser.sh \
	tests/pictures.sh tests/validation.sh tests/bench.sh

# A test program is its one file tests/NAME.c, linked with what they share: one more takes a line
# in unit_tests. What a single program needs besides is said for it below.
LDADD = libtesting.la libdregs-inside.la $(CHECK_LIBS) $(GSL_LIBS) $(NLOPT_LIBS) $(JANSSON_LIBS) $(CSV_LIBS) $(NETTLE_LIBS) -lm
tests_test_unit_peers_LDADD = $(LDADD) $(UDUNITS_LIBS)

if HAVE_CHECK
check_LTLIBRARIES = libtesting.la
check_PROGRAMS += $(unit_tests)
TESTS += $(unit_tests)
endif
TESTS += $(shell_tests)
EXTRA_DIST += $(shell_tests) tests/no_memory.c tests/fsync_signal.c tests/tsan.sh tests/threads.c tests/abidiff.sh tests/golden.sh tests/slurm-one-node.sh tests/tool.sh tests/python.sh tests/ask.py tests/recipes.py tests/tally-line.sh tests/validation_page.py tests/browser.py tests/pictures.py tests/checks.csv tests/two-lognormals.csv tests/cautions.csv tests/abi.txt tests/second-opinions.csv tests/fuzz.dict tests/by-hand tests/corpus tests/faults examples

libtesting_la_SOURCES = tests/check_main.c tests/check_main.h tests/lines.c tests/lines.h \
	tests/coverage.c tests/coverage.h tests/logs.c tests/logs.h tests/mixes.c tests/mixes.h tests/sizing.c tests/sizing.h

# the fuzz target over its corpus; the fuzzer itself is built by hand, see DEVELOPERS.md
check_PROGRAMS += tests/replay tests/cautions_page
tests_replay_SOURCES = tests/replay.c tests/fuzz_line.c
tests_replay_LDADD = libdregs-inside.la $(GSL_LIBS) $(NLOPT_LIBS) $(CSV_LIBS) -lm

# how often the interval of the loads left holds the truth, as a table, by hand: it takes a minute
EXTRA_PROGRAMS = tests/reuse_coverage
CLEANFILES += tests/reuse_coverage
LOGS = 200
.PHONY: reuse-coverage
reuse-coverage: tests/reuse_coverage
	DREGS_SOURCE=$(srcdir) tests/reuse_coverage $(LOGS)

# the short way of reading numbers against the C library's over a hundred million texts, by hand
TEXTS = 100000000
.PHONY: number-proof
number-proof: tests/test_number
	DREGS_NUMBER_TEXTS=$(TEXTS) tests/test_number

# the map of random lines against the march of tests/test_balance.c, load by load, by hand: ten thousand
# lines take some minutes
LINES = 100000
.PHONY: differential
differential: tests/test_balance
	DREGS_LINES=$(LINES) tests/test_balance

# shared objects under the thread sanitizer, by hand: it takes a minute
.PHONY: tsan memory abi-check
# every place that asks for memory is refused it once, in more commands than `make check` has time for
memory: all
	DREGS_MEMORY=all DREGS_BUILD=. DREGS_SOURCE='$(srcdir)' DREGS_CC='$(CC)' $(SHELL) $(srcdir)/tests/memory.sh
tsan: all
	CC='$(CC)' $(SHELL) $(srcdir)/tests/tsan.sh $(srcdir) .

# what a program built with the headers of the last release, or of a commit, finds today, by hand
BASE =
abi-check:
	CC='$(CC)' $(SHELL) $(srcdir)/tests/abidiff.sh $(srcdir) $(BASE)
