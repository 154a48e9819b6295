/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_locale.c: numbers, units and quantities under locales whose decimal sign is not a point.
 *
 * The locales are built here, so that the test does not pass only because none is installed:
 * de_DE has a comma, ps_AF a sign of two bytes (U+066B). Without localedef or its sources the
 * whole program is skipped.
 */
#include "check_main.h"
#include "dregs/number.h"
#include "dregs/unit.h"

#include <fcntl.h>
#include <ftw.h>
#include <locale.h>
#include <pthread.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

/* glibc 2.36 never frees the list it makes of LOCPATH in newlocale and setlocale. */
const char *__lsan_default_suppressions(void);
const char *__lsan_default_suppressions(void)
{
    return "leak:argz_add_sep";
}

static const struct {
    const char *name, *source, *sign;
} wanted[] = {{"de_DE.UTF-8", "de_DE", ","}, {"ps_AF.UTF-8", "ps_AF", "\xD9\xAB"}};

enum { LOCALES = sizeof wanted / sizeof wanted[0] };

/* Runs localedef; 0 when it could not be run. Its exit status is 1 for mere warnings, so the
 * locale itself is looked at later. */
static int build(const char *directory, const char *source, const char *name)
{
    char path[512];
    pid_t child;
    int status;

    snprintf(path, sizeof path, "%s/%s", directory, name);
    child = fork();
    if (child == 0) {
        int nowhere = open("/dev/null", O_WRONLY);
        if (nowhere >= 0) {
            dup2(nowhere, STDOUT_FILENO);
            dup2(nowhere, STDERR_FILENO);
        }
        execlp("localedef", "localedef", "--no-archive", "-i", source, "-f", "UTF-8", path,
               (char *)NULL);
        _exit(127);
    }
    if (child < 0 || waitpid(child, &status, 0) < 0)
        return 0;
    return WIFEXITED(status) && WEXITSTATUS(status) != 127;
}

static int remove_one(const char *path, const struct stat *about, int kind, struct FTW *where)
{
    (void)about;
    (void)kind;
    (void)where;
    return remove(path);
}

/* Reads and writes; returns NULL or the first thing that went wrong, so that threads can use it.
 * Expected values are exact decimals, or as named in test_number.c and test_unit.c. */
static const char *reads_and_writes(void)
{
    static const struct {
        const char *text;
        double value;
    } numbers[] = {
        {"2.385", 0x1.3147ae147ae14p+1},       {"-.85E+02", -85.0},
        {"0.85", 0x1.b333333333333p-1},        {"62.5364939768271845828", 0x1.f44abd5aa7ca4p+5},
        {"6.8e-322", 0x0.000000000008ap-1022},
    };
    static const char *const refused[] = {"0,85",
                                          "1.234,5",
                                          "1,5e3",
                                          ("2\xD9\xAB"
                                           "5"),
                                          "1,234",
                                          "0.85,1.5",
                                          "\xDB\xB2"};
    char text[DREGS_NUMBER_TEXT], message[DREGS_UNIT_MESSAGE];
    dregs_unit unit;
    double value = 0.0;
    uint64_t bits = UINT64_C(88172645463325252);
    size_t i;

    for (i = 0; i < sizeof numbers / sizeof numbers[0]; i++)
        if (dregs_number_read(numbers[i].text, &value) || value != numbers[i].value)
            return numbers[i].text;
    for (i = 0; i < sizeof refused / sizeof refused[0]; i++)
        if (dregs_number_read(refused[i], &value) != DREGS_BAD_NUMBER)
            return refused[i];
    if (strcmp(dregs_number_exact(text, 0.1 + 0.2), "0.30000000000000004") != 0)
        return "0.1 + 0.2 written exactly";
    if (strcmp(dregs_number_exact(text, -1234567.5), "-1234567.5") != 0)
        return "-1234567.5 written exactly";
    if (strcmp(dregs_number_plain(text, 1234.5678, 6), "1234.57") != 0)
        return "1234.5678 written plainly";
    if (strcmp(dregs_number_plain(text, -7.25e-9, 3), "-7.25e-09") != 0)
        return "-7.25e-9 written plainly";
    if (dregs_unit_read("uS/cm per mg/L", &unit, message) || fabs(unit.scale - 0.1) > 1e-16)
        return "uS/cm per mg/L";
    if (dregs_unit_quantity("20.5 um", "m", &value, message) || fabs(value - 2.05e-5) > 1e-20)
        return "20.5 um";
    if (dregs_unit_quantity("20,5 um", "m", &value, message) == DREGS_OK)
        return "20,5 um";
    for (i = 0; i < 5000; i++) { /* xorshift64 (Marsaglia, J. Stat. Softw. 8 (2003) 14) */
        double random, back = 0.0;
        bits ^= bits << 13;
        bits ^= bits >> 7;
        bits ^= bits << 17;
        memcpy(&random, &bits, sizeof random);
        if (isfinite(random) &&
            (dregs_number_read(dregs_number_exact(text, random), &back) || back != random))
            return "a random number";
    }
    return NULL;
}

/* The decimal sign really is another one, or the rest proves nothing. */
static int sign_is(const char *sign)
{
    char text[32];

    snprintf(text, sizeof text, "%.1f", 0.5);
    return strncmp(text + 1, sign, strlen(sign)) == 0;
}

static void assert_reads_and_writes(const char *where)
{
    const char *wrong = reads_and_writes();
    ck_assert_msg(!wrong, "%s: %s", where, wrong);
}

START_TEST(under_the_locale_of_the_process)
{
    ck_assert_ptr_nonnull(setlocale(LC_ALL, wanted[_i].name));
    ck_assert(sign_is(wanted[_i].sign));
    assert_reads_and_writes(wanted[_i].name);
    ck_assert_msg(sign_is(wanted[_i].sign), "the locale was changed");
    ck_assert_str_eq(setlocale(LC_ALL, NULL), wanted[_i].name);
    setlocale(LC_ALL, "C");
}
END_TEST

START_TEST(under_the_locale_of_a_thread)
{
    locale_t locale = newlocale(LC_ALL_MASK, wanted[_i].name, (locale_t)0), before;

    ck_assert(locale != (locale_t)0);
    before = uselocale(locale);
    ck_assert(sign_is(wanted[_i].sign));
    assert_reads_and_writes(wanted[_i].name);
    ck_assert_msg(uselocale((locale_t)0) == locale, "the thread's locale was changed");
    uselocale(before);
    freelocale(locale);
}
END_TEST

static void *in_thread(void *name)
{
    locale_t locale = newlocale(LC_ALL_MASK, name, (locale_t)0);
    const char *wrong = "no locale";

    if (!locale)
        return (void *)(uintptr_t)wrong;
    uselocale(locale);
    wrong = reads_and_writes();
    if (!wrong && uselocale((locale_t)0) != locale)
        wrong = "the thread's locale was changed";
    uselocale(LC_GLOBAL_LOCALE);
    freelocale(locale);
    return (void *)(uintptr_t)wrong;
}

START_TEST(threads_with_different_locales)
{
    static const char *const names[] = {"C", "de_DE.UTF-8", "ps_AF.UTF-8", "de_DE.UTF-8"};
    pthread_t thread[4];
    void *wrong[4];
    int i;

    for (i = 0; i < 4; i++)
        ck_assert_int_eq(pthread_create(&thread[i], NULL, in_thread, (void *)(uintptr_t)names[i]),
                         0);
    for (i = 0; i < 4; i++)
        ck_assert_int_eq(pthread_join(thread[i], &wrong[i]), 0);
    for (i = 0; i < 4; i++)
        ck_assert_msg(!wrong[i], "%s: %s", names[i], (const char *)wrong[i]);
}
END_TEST

static int run_suite(void)
{
    Suite *suite = suite_create("locale");
    TCase *tcase = tcase_create("locale");

    tcase_set_timeout(tcase, 60);
    tcase_add_loop_test(tcase, under_the_locale_of_the_process, 0, LOCALES);
    tcase_add_loop_test(tcase, under_the_locale_of_a_thread, 0, LOCALES);
    tcase_add_test(tcase, threads_with_different_locales);
    suite_add_tcase(suite, tcase);
    return run(suite);
}

int main(void)
{
    const char *parent = getenv("TMPDIR");
    char directory[256];
    int i, built = 1, status;

    snprintf(directory, sizeof directory, "%s/dregs-locale-XXXXXX", parent ? parent : "/tmp");
    if (!mkdtemp(directory)) {
        printf("Bail out! no temporary directory %s\n", directory);
        return 1;
    }
    setenv("LOCPATH", directory, 1);
    for (i = 0; i < LOCALES && built; i++) {
        locale_t locale = (locale_t)0;
        if (build(directory, wanted[i].source, wanted[i].name))
            locale = newlocale(LC_ALL_MASK, wanted[i].name, (locale_t)0);
        built = locale != (locale_t)0;
        if (built)
            freelocale(locale);
    }
    if (built) {
        status = run_suite();
    } else {
        printf("1..0 # SKIP localedef or the sources of de_DE and ps_AF are not installed\n");
        status = SKIP_STATUS;
    }
    nftw(directory, remove_one, 8, FTW_DEPTH | FTW_PHYS);
    return status;
}
