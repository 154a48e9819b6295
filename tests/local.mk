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
	tests/test_csv \
	tests/test_liquid

shell_tests =

test_ldadd = libdregs-inside.la $(CHECK_LIBS) $(GSL_LIBS) $(CSV_LIBS) -lm
test_cflags = $(AM_CFLAGS) $(CHECK_CFLAGS)

if HAVE_CHECK
check_PROGRAMS += $(unit_tests)
TESTS += $(unit_tests)
endif
TESTS += $(shell_tests)
EXTRA_DIST += $(shell_tests)

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
tests_test_csv_SOURCES = tests/test_csv.c tests/check_main.h
tests_test_csv_CFLAGS = $(test_cflags)
tests_test_csv_LDADD = $(test_ldadd)
tests_test_liquid_SOURCES = tests/test_liquid.c tests/check_main.h
tests_test_liquid_CFLAGS = $(test_cflags)
tests_test_liquid_LDADD = $(test_ldadd)
