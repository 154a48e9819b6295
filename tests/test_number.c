/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_number.c: numbers read and written; the same under other locales is test_locale.c. */
#include "check_main.h"
#include "dregs/number.h"

#include <float.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* Correctly rounded values as CPython's float(text).hex() gives them; the bounds of overflow and
 * underflow follow from IEEE 754 binary64 (IEEE 754-2019, table 3.5). */
static const struct {
    const char *text;
    double value;
} readable[] = {
    {"0", 0.0},
    {"-0", -0.0},
    {"+7", 7.0},
    {"5.", 5.0},
    {".5", 0.5},
    {"-.85E+02", -0x1.54p+6},
    {"1e-5", 0x1.4f8b588e368f1p-17},
    {"2.385", 0x1.3147ae147ae14p+1},
    {"007.250", 7.25},
    {"62.5364939768271845828", 0x1.f44abd5aa7ca4p+5},
    {"8.10109172351e-10", 0x1.bd5cbaef0fd0cp-31},
    {"30078505129381147446200", 0x1.97a3c7271b021p+74},
    {"8.41e21", 0x1.c7e83209e90b2p+72},
    {"1e23", 0x1.52d02c7e14af6p+76},
    /* halfway between two doubles: ties go to the even one, anything more goes up */
    {"9007199254740993", 0x1p+53},
    {"9007199254740993.0000000000000000001", 0x1.0000000000001p+53},
    {"0.500000000000000166533453693773481063544750213623046875", 0x1.0000000000002p-1},
    {"3.518437208883201171875e13", 0x1.0000000000002p+45},
    {"1.50000000000000011102230246251565", 0x1.8p+0},
    /* the ends of the range */
    {"1.7976931348623157e308", DBL_MAX},
    {"1.7976931348623158e308", DBL_MAX},
    {"-1.7976931348623157e308", -DBL_MAX},
    {"2.2250738585072014e-308", DBL_MIN},
    {"2.2250738585072012e-308", 0x1p-1022},
    /* subnormal */
    {"2.2250738585072011e-308", 0x0.fffffffffffffp-1022},
    {"6.8e-322", 0x0.000000000008ap-1022},
    {"4.9e-324", 0x0.0000000000001p-1022},
    {"2.4703282292062328e-324", 0x0.0000000000001p-1022},
    {"2.4703282292062327e-324", 0.0},
    {"1e-400", 0.0},
    {"-1e-99999999999", -0.0},
    {"0e999999999999999999999", 0.0},
    {"0.00000000000000000000000000000000000000000000000000000000000000000000000000000000"
     "1e81",
     1.0},
};

static const char *const unreadable[] = {
    "",
    " ",
    "1 ",
    " 1",
    "1\n",
    "\t1",
    "1,5",
    "1.234,5",
    "1 000",
    "1'000",
    "1_0",
    "0x10",
    "0x1p3",
    "0X1",
    "1p3",
    "inf",
    "INF",
    "-inf",
    "+inf",
    "nan",
    "NaN",
    "nan(1)",
    "infinity",
    "Infinity",
    "1e",
    "1e+",
    "1E-",
    "e5",
    ".",
    "-",
    "+",
    "-.",
    ".e3",
    "--1",
    "+-1",
    "1-",
    "1+1",
    "1.2.3",
    "1..2",
    "1e5.5",
    "1e5e5",
    "1e--5",
    "1d5",
    "1f",
    "1.0f",
    "1L",
    "5eV",
    "12abc",
    "1/2",
    "50%",
    "$5",
    "#1",
    "1;",
    "1\"",
    "\xEF\xBC\x91",
    "1\xC2\xA0",
    ("\xE2\x88\x92"
     "1"),
    "1e309",
    "-1e309",
    "1.7976931348623159e308",
    "1e999999999999999999999",
    "-1e400",
};

START_TEST(reads_correctly_rounded)
{
    double value = -1.5;

    ck_assert_int_eq(dregs_number_read(readable[_i].text, &value), DREGS_OK);
    ck_assert_msg(value == readable[_i].value && !signbit(value) == !signbit(readable[_i].value),
                  "'%s' read as %a, expected %a", readable[_i].text, value, readable[_i].value);
}
END_TEST

START_TEST(refuses_what_is_no_number)
{
    double value = 2.385;

    ck_assert_msg(dregs_number_read(unreadable[_i], &value) == DREGS_BAD_NUMBER,
                  "'%s' was read as %.17g", unreadable[_i], value);
    ck_assert_msg(value == 2.385, "'%s' touched the output", unreadable[_i]);
}
END_TEST

START_TEST(reads_a_very_long_number)
{
    static char text[20002];
    double value = 0.0;

    /* 0.333...3 with 20000 digits is nearer to 1/3 than any other double is */
    memset(text, '3', sizeof text - 1);
    text[0] = '.';
    ck_assert_int_eq(dregs_number_read(text, &value), DREGS_OK);
    ck_assert_msg(value == 1.0 / 3.0, "got %.17g", value);
    memset(text, '9', sizeof text - 1);
    ck_assert_int_eq(dregs_number_read(text, &value), DREGS_BAD_NUMBER);
}
END_TEST

/* "%.15g", "%.16g" and "%.17g" of CPython, the first that reads back, blanks and zeros dropped;
 * powers of two from their exact decimal expansion. */
static const struct {
    double value;
    const char *text;
} exact[] = {
    {0.0, "0"},
    {-0.0, "0"},
    {1.0, "1"},
    {-2.385, "-2.385"},
    {0.1, "0.1"},
    {0.1 + 0.2, "0.30000000000000004"},
    {1.0 / 3.0, "0.3333333333333333"},
    {2.0 / 3.0, "0.6666666666666666"},
    {100.0, "100"},
    {123456789012345.0, "123456789012345"},
    {999999999999999.0, "999999999999999"},
    {1e15, "1e+15"},
    {9007199254740992.0, "9.007199254740992e+15"},
    {9007199254740994.0, "9.007199254740994e+15"},
    {0x1p-10, "0.0009765625"},
    {0.0001, "0.0001"},
    {0.00001, "1e-05"},
    {1e23, "1e+23"},
    {DBL_MAX, "1.7976931348623157e+308"}, /* with 16 digits it would overflow */
    {0x0.0000000000001p-1022, "4.94065645841247e-324"},
    {INFINITY, "inf"},
    {-INFINITY, "-inf"},
    {NAN, "nan"},
};

START_TEST(writes_exact)
{
    char text[DREGS_NUMBER_TEXT];

    ck_assert_ptr_eq(dregs_number_exact(text, exact[_i].value), text);
    ck_assert_str_eq(text, exact[_i].text);
}
END_TEST

/* xorshift64* (Vigna, ACM TOMS 42 (2016) 30), so that the patterns are the same everywhere */
static uint64_t next(uint64_t *state)
{
    *state ^= *state >> 12;
    *state ^= *state << 25;
    *state ^= *state >> 27;
    return *state * UINT64_C(2685821657736338717);
}

/* How many significant digits a text has, without the zeros at either end. */
static int figures(const char *text)
{
    int count = 0, kept = 0;

    for (; *text && *text != 'e'; text++) {
        if (*text < '0' || *text > '9' || (!kept && *text == '0'))
            continue;
        count++;
        if (*text != '0')
            kept = count;
    }
    return kept;
}

START_TEST(writes_exact_any_bit_pattern)
{
    uint64_t state = UINT64_C(20240229);
    int i, finite = 0, subnormal = 0;

    for (i = 0; i < 100000; i++) {
        uint64_t bits = next(&state);
        char text[DREGS_NUMBER_TEXT + 1], shorter[64];
        double value, back = 0.0;

        if (i % 10 == 0)
            bits &= UINT64_C(0x800fffffffffffff); /* a tenth of them subnormal */
        memcpy(&value, &bits, sizeof value);
        text[DREGS_NUMBER_TEXT] = '!';
        dregs_number_exact(text, value);
        ck_assert_msg(text[DREGS_NUMBER_TEXT] == '!' && strlen(text) < DREGS_NUMBER_TEXT,
                      "%a is written past the end", value);
        if (!isfinite(value)) {
            ck_assert_int_eq(dregs_number_read(text, &back), DREGS_BAD_NUMBER);
            continue;
        }
        finite++;
        subnormal += fabs(value) < DBL_MIN;
        ck_assert_msg(dregs_number_read(text, &back) == DREGS_OK, "'%s' is not read back", text);
        ck_assert_msg(memcmp(&back, &value, sizeof value) == 0, "%a, written '%s', read as %a",
                      value, text, back);
        /* the C library agrees, and needs no fewer of 15, 16 or 17 digits */
        ck_assert_msg(strtod(text, NULL) == value, "'%s' is not %a", text, value);
        snprintf(shorter, sizeof shorter, "%.15g", value);
        if (strtod(shorter, NULL) != value)
            snprintf(shorter, sizeof shorter, "%.16g", value);
        if (strtod(shorter, NULL) == value)
            ck_assert_msg(figures(text) <= figures(shorter), "'%s' is longer than '%s'", text,
                          shorter);
    }
    ck_assert_int_gt(finite, 99000);
    ck_assert_int_gt(subnormal, 9000);
}
END_TEST

/* From the exact decimal expansion of the doubles: 2.385 lies below itself, 2.5 is a tie. */
static const struct {
    double value;
    int digits;
    const char *text;
} plain[] = {
    {0.0, 3, "0"},
    {-0.0, 3, "0"},
    {2.385, 3, "2.38"},
    {-2.385, 2, "-2.4"},
    {2.5, 1, "2"},
    {3.5, 1, "4"},
    {100.0, 3, "100"},
    {100.04, 4, "100"},
    {100.06, 4, "100.1"},
    {0.000123456, 3, "0.000123"},
    {0.0001, 3, "0.0001"},
    {0.00009994, 3, "9.99e-05"},
    {0.00009996, 3, "0.0001"},
    {123456.0, 3, "123000"},
    {999499.0, 3, "999000"},
    {999500.0, 3, "1e+06"},
    {999999.4, 6, "999999"},
    {999999.5, 6, "1e+06"},
    {1234567.0, 3, "1.23e+06"},
    {1234567.0, 7, "1234567"},
    {12345678.0, 7, "1.234568e+07"},
    {-0x1.cp-27, 2, "-1.3e-08"},
    {0.1, 17, "0.10000000000000001"},
    {12345678901234567.0, 17, "12345678901234568"},
    {-1e300, 4, "-1e+300"},
    {9.9999e-101, 3, "1e-100"},
    {INFINITY, 3, "inf"},
    {-INFINITY, 3, "-inf"},
    {NAN, 3, "nan"},
    {-NAN, 3, "nan"},
};

START_TEST(writes_plain)
{
    char text[DREGS_NUMBER_TEXT];

    ck_assert_ptr_eq(dregs_number_plain(text, plain[_i].value, plain[_i].digits), text);
    ck_assert_str_eq(text, plain[_i].text);
}
END_TEST

START_TEST(writes_plain_to_half_a_digit)
{
    uint64_t state = UINT64_C(42);
    int i;

    for (i = 0; i < 20000; i++) {
        uint64_t bits = next(&state);
        char text[DREGS_NUMBER_TEXT + 1];
        double value, back = 0.0;
        int digits = 1 + i % 17;

        memcpy(&value, &bits, sizeof value);
        if (!isnormal(value) || fabs(value) > DBL_MAX / 2)
            continue;
        text[DREGS_NUMBER_TEXT] = '!';
        dregs_number_plain(text, value, digits);
        ck_assert_msg(text[DREGS_NUMBER_TEXT] == '!' && strlen(text) < DREGS_NUMBER_TEXT,
                      "%a with %d digits is written past the end", value, digits);
        ck_assert_int_eq(dregs_number_read(text, &back), DREGS_OK);
        /* half a unit of the last of n digits is at most 5 * 10^-n of the value */
        ck_assert_near(back, value, 5.0 * pow(10.0, -digits) + 2e-16, "%s with %d digits", text,
                       digits);
    }
}
END_TEST

/* A number as a person or a program writes it: up to 20 digits with a point anywhere among them,
 * half of them with an exponent; one in eight is a double's own 17 digits. */
static void make_text(uint64_t *state, char text[64])
{
    uint64_t bits = next(state), figures = next(state);
    int digits = 1 + (int)(bits % 20), point = (int)(bits >> 8 & 31) - 1, i;
    double value;
    char *p = text;

    if ((bits >> 16 & 7) == 0) {
        memcpy(&value, &figures, sizeof value);
        snprintf(text, 64, "%.16e", isfinite(value) ? value : 0.0);
        return;
    }
    if (bits >> 20 & 1)
        *p++ = bits >> 21 & 1 ? '-' : '+';
    for (i = 0; i < digits; i++, figures /= 10) {
        if (i == point)
            *p++ = '.';
        *p++ = (char)('0' + figures % 10);
    }
    *p = '\0';
    if (bits >> 22 & 1)
        snprintf(p, 16, "%c%d", bits >> 23 & 1 ? 'e' : 'E', (int)(bits >> 32 & 63) - 32);
}

/* The short way of reading against the C library's, which rounds correctly, to the bit; make
 * number-proof takes a hundred million texts. */
START_TEST(reads_as_the_c_library)
{
    const char *asked = getenv("DREGS_NUMBER_TEXTS");
    long texts = asked ? strtol(asked, NULL, 10) : 300000, i;
    uint64_t state = UINT64_C(20261130);

    for (i = 0; i < texts; i++) {
        char text[64];
        double value = 0, peer;
        make_text(&state, text);
        peer = strtod(text, NULL);
        if (dregs_number_read(text, &value) || memcmp(&value, &peer, sizeof value) != 0)
            ck_abort_msg("'%s' read as %a, by the C library as %a", text, value, peer);
    }
    if (asked)
        printf("# %ld texts\n", texts);
}
END_TEST

#define COUNT(table) (int)(sizeof table / sizeof table[0])

int main(void)
{
    Suite *suite = suite_create("number");
    TCase *tcase = tcase_create("number");

    tcase_set_timeout(tcase, getenv("DREGS_NUMBER_TEXTS") ? 3600 : 60);
    tcase_add_loop_test(tcase, reads_correctly_rounded, 0, COUNT(readable));
    tcase_add_loop_test(tcase, refuses_what_is_no_number, 0, COUNT(unreadable));
    tcase_add_test(tcase, reads_a_very_long_number);
    tcase_add_test(tcase, reads_as_the_c_library);
    tcase_add_loop_test(tcase, writes_exact, 0, COUNT(exact));
    tcase_add_test(tcase, writes_exact_any_bit_pattern);
    tcase_add_loop_test(tcase, writes_plain, 0, COUNT(plain));
    tcase_add_test(tcase, writes_plain_to_half_a_digit);
    suite_add_tcase(suite, tcase);
    return run(suite);
}
