# Check programs per module under the parallel harness with TAP, shell tests for the tools.
TEST_EXTENSIONS = .sh
LOG_DRIVER = env AM_TAP_AWK='$(AWK)' $(SHELL) $(top_srcdir)/build-aux/tap-driver.sh
SH_LOG_COMPILER = $(SHELL)
AM_TESTS_ENVIRONMENT = \
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
	tests/test_csv \
	tests/test_report \
	tests/test_liquid \
	tests/test_meter \
	tests/test_mixture \
	tests/test_law \
	tests/test_purchase \
	tests/test_line \
	tests/test_balance \
	tests/test_residue \
	tests/test_caution \
	tests/test_checks \
	tests/test_size \
	tests/test_dry \
	tests/test_readings \
	tests/test_reuse \
	tests/test_tally

shell_tests = \
	tests/tally-law.sh \
	tests/bad-input.sh \
	tests/predict.sh \
	tests/examples.sh \
	tests/headers.sh \
	tests/liquid.sh \
	tests/lint.sh \
	tests/replay.sh \
	tests/size.sh \
	tests/dry.sh \
	tests/reuse.sh \
	tests/tally.sh

test_ldadd = libdregs-inside.la $(CHECK_LIBS) $(GSL_LIBS) $(NLOPT_LIBS) $(JANSSON_LIBS) $(CSV_LIBS) -lm
# under TAP a skipped program says so itself and ends with 0
test_cflags = $(AM_CFLAGS) $(CHECK_CFLAGS) -DSKIP_STATUS=0

if HAVE_CHECK
check_PROGRAMS += $(unit_tests)
TESTS += $(unit_tests)
endif
TESTS += $(shell_tests)
EXTRA_DIST += $(shell_tests) tests/golden.sh tests/tool.sh tests/checks.csv tests/second-opinions.csv tests/fuzz.dict tests/corpus tests/faults

tests_test_text_SOURCES = tests/test_text.c tests/check_main.h
tests_test_text_CFLAGS = $(test_cflags)
tests_test_text_LDADD = $(test_ldadd)
tests_test_number_SOURCES = tests/test_number.c tests/check_main.h
tests_test_number_CFLAGS = $(test_cflags)
tests_test_number_LDADD = $(test_ldadd)
tests_test_locale_SOURCES = tests/test_locale.c tests/check_main.h
tests_test_locale_CFLAGS = $(test_cflags)
tests_test_locale_LDADD = $(test_ldadd)
tests_test_unit_SOURCES = tests/test_unit.c tests/check_main.h
tests_test_unit_CFLAGS = $(test_cflags)
tests_test_unit_LDADD = $(test_ldadd)
tests_test_unit_peers_SOURCES = tests/test_unit_peers.c tests/check_main.h
tests_test_unit_peers_CFLAGS = $(test_cflags)
tests_test_unit_peers_LDADD = $(test_ldadd) $(UDUNITS_LIBS)
tests_test_csv_SOURCES = tests/test_csv.c tests/check_main.h
tests_test_csv_CFLAGS = $(test_cflags)
tests_test_csv_LDADD = $(test_ldadd)
tests_test_report_SOURCES = tests/test_report.c tests/check_main.h
tests_test_report_CFLAGS = $(test_cflags)
tests_test_report_LDADD = $(test_ldadd)
tests_test_liquid_SOURCES = tests/test_liquid.c tests/check_main.h
tests_test_liquid_CFLAGS = $(test_cflags)
tests_test_liquid_LDADD = $(test_ldadd)
tests_test_meter_SOURCES = tests/test_meter.c tests/check_main.h
tests_test_meter_CFLAGS = $(test_cflags)
tests_test_meter_LDADD = $(test_ldadd)
tests_test_mixture_SOURCES = tests/test_mixture.c tests/check_main.h
tests_test_mixture_CFLAGS = $(test_cflags)
tests_test_mixture_LDADD = $(test_ldadd)
tests_test_line_SOURCES = tests/test_line.c tests/check_main.h
tests_test_line_CFLAGS = $(test_cflags)
tests_test_line_LDADD = $(test_ldadd)
tests_test_balance_SOURCES = tests/test_balance.c tests/check_main.h tests/lines.c tests/lines.h
tests_test_balance_CFLAGS = $(test_cflags)
tests_test_balance_LDADD = $(test_ldadd)
tests_test_residue_SOURCES = tests/test_residue.c tests/check_main.h tests/lines.c tests/lines.h
tests_test_residue_CFLAGS = $(test_cflags)
tests_test_residue_LDADD = $(test_ldadd)
tests_test_caution_SOURCES = tests/test_caution.c tests/check_main.h tests/lines.c tests/lines.h
tests_test_caution_CFLAGS = $(test_cflags)
tests_test_caution_LDADD = $(test_ldadd)
tests_test_dry_SOURCES = tests/test_dry.c tests/check_main.h
tests_test_dry_CFLAGS = $(test_cflags)
tests_test_dry_LDADD = $(test_ldadd)
tests_test_tally_SOURCES = tests/test_tally.c tests/check_main.h tests/lines.c tests/lines.h
tests_test_tally_CFLAGS = $(test_cflags)
tests_test_tally_LDADD = $(test_ldadd)
tests_test_size_SOURCES = tests/test_size.c tests/check_main.h tests/lines.c tests/lines.h
tests_test_size_CFLAGS = $(test_cflags)
tests_test_size_LDADD = $(test_ldadd)
tests_test_law_SOURCES = tests/test_law.c tests/check_main.h
tests_test_law_CFLAGS = $(test_cflags)
tests_test_law_LDADD = $(test_ldadd)
tests_test_purchase_SOURCES = tests/test_purchase.c tests/check_main.h tests/lines.c tests/lines.h
tests_test_purchase_CFLAGS = $(test_cflags)
tests_test_purchase_LDADD = $(test_ldadd)
tests_test_readings_SOURCES = tests/test_readings.c tests/check_main.h tests/lines.c tests/lines.h
tests_test_readings_CFLAGS = $(test_cflags)
tests_test_readings_LDADD = $(test_ldadd)
tests_test_reuse_SOURCES = tests/test_reuse.c tests/check_main.h tests/lines.c tests/lines.h
tests_test_reuse_CFLAGS = $(test_cflags)
tests_test_reuse_LDADD = $(test_ldadd)
tests_test_checks_SOURCES = tests/test_checks.c tests/check_main.h tests/lines.c tests/lines.h
tests_test_checks_CFLAGS = $(test_cflags)
tests_test_checks_LDADD = $(test_ldadd)

# the fuzz target over its corpus; the fuzzer itself is built by hand, see DEVELOPERS.md
check_PROGRAMS += tests/replay
tests_replay_SOURCES = tests/replay.c tests/fuzz_line.c
tests_replay_LDADD = libdregs-inside.la $(GSL_LIBS) $(NLOPT_LIBS) $(CSV_LIBS) -lm
