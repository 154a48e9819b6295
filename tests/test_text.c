/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_text.c: the text helpers and the list of faults. */
#include "base/text.h"
#include "check_main.h"

#include <string.h>

#define COUNT(table) (int)(sizeof table / sizeof table[0])

static const char *const names[] = {"withdrawal speed", "drain time",  NULL, "volume", "flow",
                                    "temperature",      "top up from", "mL", "",       "removal"};

/* Slips counted by hand as insertions, deletions, changes and swaps of neighbours. */
static const struct {
    const char *wanted, *nearest;
} near[] = {
    {"volume", "volume"},
    {"VOLUME", "volume"},
    {"volum", "volume"},   /* 1 of 6 */
    {"voulme", "volume"},  /* a swap: 1 of 6 */
    {"vloumee", "volume"}, /* a swap and one too many: 2 of 7 */
    {"vxlxme", "volume"},  /* 2 of 6: just near enough */
    {"vxlxmx", NULL},      /* 3 of 6 */
    {"floww", "flow"},     /* 1 of 5 */
    {"fow", "flow"},       /* 1 of 4 */
    {"wlof", NULL},        /* 2 of 4 */
    {"withdrawl sped", "withdrawal speed"},
    {"temprature", "temperature"},
    {"Top Up Form", "top up from"},
    {"removals", "removal"},
    {"m", NULL}, /* 1 of 2 */
    {"x", NULL},
    {"", NULL},
    {"entirely different", NULL},
};

START_TEST(nearest_name)
{
    const char *got = dregs_nearest(near[_i].wanted, names, COUNT(names));

    if (near[_i].nearest)
        ck_assert_pstr_eq(got, near[_i].nearest);
    else
        ck_assert_msg(!got, "'%s' gave '%s'", near[_i].wanted, got);
}
END_TEST

START_TEST(nearest_takes_the_first_of_equals_and_bounds)
{
    static const char *const pair[] = {"drain tame", "drain tome", "drain time"};
    char at_most[49], longer[50];
    const char *one[1];

    ck_assert_pstr_eq(dregs_nearest("drain tyme", pair, 3), "drain tame");
    ck_assert_pstr_eq(dregs_nearest("drain TIME", pair, 3), "drain time");
    ck_assert_ptr_null(dregs_nearest("volume", pair, 0));
    ck_assert_ptr_null(dregs_nearest("volume", NULL, 0));
    memset(at_most, 'a', sizeof at_most);
    at_most[48] = '\0';
    memset(longer, 'a', sizeof longer);
    longer[49] = '\0';
    one[0] = at_most;
    ck_assert_ptr_eq(dregs_nearest(at_most, one, 1), at_most);
    ck_assert_ptr_null(dregs_nearest(longer, one, 1)); /* words of more than 48 bytes are left */
    one[0] = longer;
    ck_assert_ptr_null(dregs_nearest(at_most, one, 1));
}
END_TEST

START_TEST(quote_short)
{
    char text[DREGS_QUOTED];

    ck_assert_ptr_eq(dregs_quote(text, "mL"), text);
    ck_assert_str_eq(text, "'mL'");
    ck_assert_str_eq(dregs_quote(text, ""), "''");
    ck_assert_str_eq(dregs_quote(text, "a\tb\nc\x1B[31m\x7F"), "'a?b?c?[31m?'");
    ck_assert_str_eq(dregs_quote(text, "it's \"so\""), "'it's \"so\"'");
    ck_assert_str_eq(dregs_quote(text, "\xC2\xB5m"), "'\xC2\xB5m'");
}
END_TEST

/* Texts of every length and of characters of 1 to 4 bytes: whole characters, never past the end. */
START_TEST(quote_cuts_at_a_character)
{
    static const char *const character[] = {"x", "\xC2\xB5", "\xE2\x82\xAC", "\xF0\x9F\x92\xA7"};
    size_t bytes = strlen(character[_i]), count, shift;

    for (shift = 0; shift < 4; shift++)
        for (count = 0; count < 80; count++) {
            char text[512] = "", quoted[DREGS_QUOTED + 1];
            size_t i, length;
            memset(text, '-', shift);
            for (i = 0; i < count; i++)
                memcpy(text + shift + i * bytes, character[_i], bytes + 1);
            quoted[DREGS_QUOTED] = '!';
            dregs_quote(quoted, text);
            length = strlen(quoted);
            ck_assert(quoted[DREGS_QUOTED] == '!' && length < DREGS_QUOTED);
            ck_assert_uint_eq(dregs_utf8_span(quoted, length), length);
            if (strlen(text) + 6 <= DREGS_QUOTED) {
                ck_assert_uint_eq(length, strlen(text) + 2);
                continue;
            }
            ck_assert_str_eq(quoted + length - 4, "...'");
            ck_assert_int_eq(strncmp(quoted + 1, text, length - 5), 0);
            ck_assert_msg(length + bytes >= DREGS_QUOTED, "cut too early: %s", quoted);
        }
}
END_TEST

START_TEST(quote_what_is_not_text)
{
    char text[128], quoted[DREGS_QUOTED];

    memset(text, '\x80', sizeof text); /* nothing but continuation bytes */
    text[sizeof text - 1] = '\0';
    ck_assert_str_eq(dregs_quote(quoted, text), "'...'");
}
END_TEST

/* Table 3-7 of the Unicode standard 15.0 and the examples of RFC 3629, sections 3, 4 and 10. */
static const struct {
    const char *bytes;
    size_t length, span;
} utf8[] = {
    {"", 0, 0},
    {"plain", 5, 5},
    {"a\0b", 3, 3},
    {"\x7F", 1, 1},
    {"\xC2\x80", 2, 2},
    {"\xDF\xBF", 2, 2},
    {"\xE0\xA0\x80", 3, 3},
    {"\xED\x9F\xBF", 3, 3},
    {"\xEE\x80\x80", 3, 3},
    {"\xEF\xBF\xBF", 3, 3},
    {"\xF0\x90\x80\x80", 4, 4},
    {"\xF4\x8F\xBF\xBF", 4, 4},
    {"A\xE2\x89\xA2\xCE\x91.", 7, 7},
    {"\x80", 1, 0},
    {"ab\xBF", 3, 2},
    {"\xC0\x80", 2, 0}, /* overlong */
    {"\xC1\xBF", 2, 0},
    {"\xE0\x80\x80", 3, 0},
    {"\xE0\x9F\xBF", 3, 0},
    {"\xF0\x80\x80\x80", 4, 0},
    {"\xF0\x8F\xBF\xBF", 4, 0},
    {"/\xC0\xAE./", 5, 1},
    {"\xED\xA0\x80", 3, 0}, /* surrogates */
    {"\xED\xBF\xBF", 3, 0},
    {"\xED\xA1\x8C\xED\xBE\xB4", 6, 0},
    {"\xF4\x90\x80\x80", 4, 0}, /* beyond U+10FFFF */
    {"\xF5\x80\x80\x80", 4, 0},
    {"\xF8\x88\x80\x80\x80", 5, 0},
    {"\xFE", 1, 0},
    {"\xFF", 1, 0},
    {"m\xC2", 2, 1}, /* truncated */
    {"m\xE2\x82", 3, 1},
    {"m\xF0\x9F\x92", 4, 1},
    {"\xE2\x82\xAC\xE2\x82", 5, 3},
    {"\xC2m", 2, 0}, /* another character where one should go on */
    {"\xE2\x82m", 3, 0},
    {"\xE2\xC2\x80", 3, 0},
    {"\xF0\x9F\x92m", 4, 0},
    {"\xC3\xA9\xE9", 3, 2}, /* Latin-1 after UTF-8 */
};

START_TEST(utf8_span)
{
    ck_assert_uint_eq(dregs_utf8_span(utf8[_i].bytes, utf8[_i].length), utf8[_i].span);
}
END_TEST

/* Names and categories by the Unicode Standard: Cc, Cf, Zl or Zp, and some that are seen. */
static const struct {
    const char *text;
    size_t bytes;
} unseen[] = {
    {"\n", 1},
    {"\033[31m", 1},
    {"\177", 1},
    {"\xC2\x85", 2},         /* next line, U+0085 */
    {"\xC2\x9B", 2},         /* control sequence introducer, U+009B */
    {"\xC2\xAD", 2},         /* soft hyphen */
    {"\xD8\x9C", 2},         /* Arabic letter mark, U+061C */
    {"\xE2\x80\x8B", 3},     /* zero width space, U+200B */
    {"\xE2\x80\x8D", 3},     /* zero width joiner, U+200D */
    {"\xE2\x80\xA8", 3},     /* line separator, U+2028 */
    {"\xE2\x80\xAE", 3},     /* right-to-left override, U+202E */
    {"\xE2\x81\xA6", 3},     /* left-to-right isolate, U+2066 */
    {"\xEF\xBB\xBF", 3},     /* zero width no-break space, U+FEFF */
    {"\xF3\xA0\x81\x81", 4}, /* tag capital letter A, U+E0041 */
    {"", 0},
    {" ", 0},
    {"a", 0},
    {"~", 0},
    {"\xC2\xA0", 0},         /* no-break space */
    {"\xC2\xB0", 0},         /* degree sign */
    {"\xC3\xA9", 0},         /* e with acute */
    {"\xCE\xBC", 0},         /* mu */
    {"\xE2\x80\xB0", 0},     /* per mille sign, U+2030 */
    {"\xE4\xB8\xAD", 0},     /* U+4E2D */
    {"\xF0\x9F\x92\xA7", 0}, /* U+1F4A7 */
    {"\xE2\x80", 0},         /* cut short */
    {"\x85", 0},             /* no character */
};

START_TEST(what_nobody_sees)
{
    char tamed[40];

    ck_assert_uint_eq(dregs_utf8_unseen(unseen[_i].text), unseen[_i].bytes);
    snprintf(tamed, sizeof tamed, "a%s", unseen[_i].text);
    dregs_utf8_tame(tamed, '?');
    if (unseen[_i].bytes) {
        ck_assert_uint_eq(strspn(tamed + 1, "?"), unseen[_i].bytes);
        ck_assert_str_eq(tamed + 1 + unseen[_i].bytes, unseen[_i].text + unseen[_i].bytes);
    } else {
        ck_assert_str_eq(tamed + 1, unseen[_i].text);
    }
}
END_TEST

/* All code points as RFC 3629, section 3, encodes them; and all sequences of two bytes. */
START_TEST(utf8_all)
{
    unsigned long c, good = 0;

    for (c = 0; c < 0x120000; c++) {
        char b[4];
        size_t length = c < 0x80 ? 1 : c < 0x800 ? 2 : c < 0x10000 ? 3 : 4, i;
        int valid = c <= 0x10FFFF && !(c >= 0xD800 && c <= 0xDFFF);
        static const unsigned lead[] = {0, 0, 0xC0, 0xE0, 0xF0};
        for (i = length; i-- > 1;)
            b[i] = (char)(0x80 | (c >> 6 * (length - 1 - i) & 0x3F));
        b[0] = (char)(lead[length] | c >> 6 * (length - 1));
        ck_assert_msg(dregs_utf8_span(b, length) == (valid ? length : 0), "U+%lX", c);
        if (length > 1)
            ck_assert_msg(dregs_utf8_span(b, length - 1) == 0, "U+%lX cut short", c);
    }
    for (c = 0; c < 0x10000; c++) {
        char b[2] = {(char)(c >> 8), (char)(c & 0xFF)};
        good += dregs_utf8_span(b, 2) == 2;
    }
    ck_assert_uint_eq(good, 128 * 128 + 1920); /* pairs of ASCII, U+0080 to U+07FF */
}
END_TEST

START_TEST(faults_are_kept_and_counted)
{
    dregs_faults faults = {0};
    unsigned i;

    for (i = 0; i < 33; i++)
        ck_assert_int_eq(
            dregs_fault_add(&faults, DREGS_BAD_UNIT, 100 - i, "fault %u of %s", i, "many"),
            DREGS_BAD_UNIT);
    ck_assert_uint_eq(faults.count, 20);
    ck_assert_uint_eq(faults.count, DREGS_FAULTS_MAX);
    ck_assert_uint_eq(faults.more, 13);
    ck_assert_str_eq(faults.fault[0].text, "fault 0 of many");
    ck_assert_str_eq(faults.fault[19].text, "fault 19 of many");
    ck_assert_uint_eq(faults.fault[19].line, 81);
    ck_assert_int_eq(faults.fault[19].status, DREGS_BAD_UNIT);
    dregs_faults_sort(&faults);
    for (i = 0; i < 20; i++)
        ck_assert_uint_eq(faults.fault[i].line, 81 + i);
    ck_assert_str_eq(faults.fault[0].text, "fault 19 of many");
    ck_assert_uint_eq(faults.more, 13);
}
END_TEST

START_TEST(faults_of_one_line_keep_their_order)
{
    static const unsigned long line[] = {7, 3, 0, 7, 3, 12, 0, 7, 3, 1};
    static const char order[] = "2691480375"; /* worked out by hand */
    dregs_faults faults = {0};
    unsigned i;

    for (i = 0; i < 10; i++)
        dregs_fault_add(&faults, DREGS_BAD_DATA, line[i], "%u", i);
    dregs_faults_sort(&faults);
    for (i = 0; i < 10; i++)
        ck_assert_int_eq(faults.fault[i].text[0], order[i]);
}
END_TEST

START_TEST(faults_may_be_nobodys)
{
    dregs_faults none = {0};

    ck_assert_int_eq(dregs_fault_add(NULL, DREGS_DOMAIN, 3, "%d", 5), DREGS_DOMAIN);
    dregs_faults_sort(NULL);
    dregs_faults_sort(&none);
    ck_assert_uint_eq(none.count, 0);
}
END_TEST

START_TEST(long_text_ends_in_dots)
{
    dregs_faults faults = {0};
    char text[DREGS_FAULT_TEXT + 100];
    const char *kept;
    size_t i;

    memset(text, 'x', sizeof text);
    text[DREGS_FAULT_TEXT - 1] = '\0';
    dregs_fault_add(&faults, DREGS_BAD_DATA, 1, "%s", text);
    ck_assert_str_eq(faults.fault[0].text, text); /* 511 bytes just fit */
    text[DREGS_FAULT_TEXT - 1] = 'x';
    text[DREGS_FAULT_TEXT] = '\0';
    dregs_fault_add(&faults, DREGS_BAD_DATA, 2, "%s", text);
    kept = faults.fault[1].text;
    ck_assert_uint_eq(strlen(kept), DREGS_FAULT_TEXT - 1);
    ck_assert_str_eq(kept + DREGS_FAULT_TEXT - 5, "x...");
    for (i = 0; i < 3; i++) { /* micro signs that begin on an even or an odd byte */
        memset(text, '-', i);
        for (size_t k = i; k + 2 < sizeof text; k += 2)
            memcpy(text + k, "\xC2\xB5", 3);
        dregs_fault_add(&faults, DREGS_BAD_DATA, 3, "%s", text);
        kept = faults.fault[2 + i].text;
        ck_assert_str_eq(kept + strlen(kept) - 3, "...");
        ck_assert_uint_eq(dregs_utf8_span(kept, strlen(kept)), strlen(kept));
        ck_assert_uint_ge(strlen(kept), DREGS_FAULT_TEXT - 2);
    }
}
END_TEST

START_TEST(every_status_has_words)
{
    static const char *const said[] = {"done",
                                       "bad data",
                                       "bad number",
                                       "bad unit",
                                       "unknown name",
                                       "argument outside the valid range",
                                       "property outside the range of its data",
                                       "no steady state",
                                       "result not finite",
                                       "out of memory",
                                       "could not read or write"};
    int i;

    ck_assert_int_eq(COUNT(said), DREGS_IO + 1);
    for (i = 0; i < COUNT(said); i++)
        ck_assert_str_eq(dregs_status_text((dregs_status)i), said[i]);
    ck_assert_str_eq(dregs_status_text((dregs_status)11), "unknown status");
}
END_TEST

/* The numbers are part of the interface: status.h. */
START_TEST(statuses_keep_their_numbers)
{
    ck_assert_int_eq(DREGS_OK, 0);
    ck_assert_int_eq(DREGS_BAD_DATA, 1);
    ck_assert_int_eq(DREGS_BAD_NUMBER, 2);
    ck_assert_int_eq(DREGS_BAD_UNIT, 3);
    ck_assert_int_eq(DREGS_UNKNOWN, 4);
    ck_assert_int_eq(DREGS_DOMAIN, 5);
    ck_assert_int_eq(DREGS_OUT_OF_RANGE, 6);
    ck_assert_int_eq(DREGS_NO_STEADY, 7);
    ck_assert_int_eq(DREGS_NUMERIC, 8);
    ck_assert_int_eq(DREGS_NO_MEMORY, 9);
    ck_assert_int_eq(DREGS_IO, 10);
}
END_TEST

/* RFC 4180, section 2: commas, quotes and line breaks want quotes, and a quote is doubled. Blanks
 * at the ends and a leading # are what the files of dregs want quotes for besides. */
static const struct {
    const char *before, *cell, *written;
} cells[] = {{"", "plain", "plain"},
             {"", "", ""},
             {"", "a,b", "\"a,b\""},
             {"", "say \"a\"", "\"say \"\"a\"\"\""},
             {"", "two\nlines", "\"two\nlines\""},
             {"", " blank", "\" blank\""},
             {"", "blank ", "\"blank \""},
             {"", "#1", "\"#1\""},
             {"", "no #1", "no #1"},
             {"'", "=1", "'=1"},
             {"'", "=1,2", "\"'=1,2\""},
             {"", "\"", "\"\"\"\""}};

static void append(void *user, const char *bytes, size_t length)
{
    strncat(user, bytes, length);
}

START_TEST(cells_of_csv)
{
    char written[64] = "";

    dregs_csv_cell(',', cells[_i].before, cells[_i].cell, append, written);
    ck_assert_str_eq(written, cells[_i].written);
}
END_TEST

static const struct {
    dregs_dialect dialect;
    const char *cell, *written;
} numbers[] = {
    {{',', '.', 0}, "1.218", "1.218"},
    {{';', ',', 3}, "1.25", "1,25"},
    {{';', ',', 3}, "-0.125", "-0,125"},
    {{';', ',', 3}, "1.218", "1,2180"}, /* 1,218 may be a thousand and more */
    {{';', ',', 3}, "123.456 %", "123,4560 %"},
    {{';', ',', 3}, "1234.567", "1234,567"},
    {{';', ',', 3}, "1.234e-05", "1,234e-05"},
    {{';', ',', 3}, "2.5%", "2,5%"},
    {{';', ',', 3}, "12", "12"},
    {{';', ',', 3}, "v1.5", "v1.5"}, /* a word */
    {{';', ',', 3}, "1.5 L", "1.5 L"},
    {{';', '.', 3}, "1.218", "1.2180"},
    {{';', 0, 0}, "0.5", "0,5"},
    {{'\t', 0, 0}, "0.5", "0.5"},
    {{'\t', ',', 2}, "0.5", "0,5"},
    {{0, 0, 0}, "1.218", "1.218"},
};

START_TEST(numbers_of_csv)
{
    char into[DREGS_CSV_NUMBER];

    ck_assert_str_eq(dregs_csv_number(into, numbers[_i].dialect, numbers[_i].cell),
                     numbers[_i].written);
}
END_TEST

START_TEST(cells_of_other_separators)
{
    char written[64] = "";

    dregs_csv_cell(';', "", "a, b", append, written);
    dregs_csv_cell('\t', "", "c;d", append, written);
    ck_assert_str_eq(written, "a, bc;d");
    dregs_csv_cell(';', "", "e;f", append, written);
    dregs_csv_cell('\t', "", "g\th", append, written);
    ck_assert_str_eq(written, "a, bc;d\"e;f\"\"g\th\"");
}
END_TEST

START_TEST(what_a_comma_is_not)
{
    ck_assert_str_ne(dregs_comma_words("1,5"), "");
    ck_assert_str_ne(dregs_comma_words("<-12,50"), "");
    ck_assert_str_eq(dregs_comma_words("1.5"), "");
    ck_assert_str_eq(dregs_comma_words("a,5"), "");
    ck_assert_str_eq(dregs_comma_words("1,"), "");
    ck_assert_str_eq(dregs_comma_words("1,5,"), "");
    ck_assert_str_eq(dregs_comma_words(""), "");
}
END_TEST

START_TEST(the_end_of_a_text)
{
    ck_assert_str_eq(dregs_utf8_end("hall/bay.csv", 12), "hall/bay.csv");
    ck_assert_str_eq(dregs_utf8_end("hall/bay.csv", 7), "bay.csv");
    ck_assert_str_eq(dregs_utf8_end("K\xC3\xBC"
                                    "hl",
                                    3),
                     "hl"); /* no half of a character */
    ck_assert_str_eq(dregs_utf8_end("", 3), "");
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("text");
    TCase *tcase = tcase_create("text");

    tcase_set_timeout(tcase, 60);
    tcase_add_loop_test(tcase, nearest_name, 0, COUNT(near));
    tcase_add_test(tcase, nearest_takes_the_first_of_equals_and_bounds);
    tcase_add_test(tcase, quote_short);
    tcase_add_loop_test(tcase, quote_cuts_at_a_character, 0, 4);
    tcase_add_test(tcase, quote_what_is_not_text);
    tcase_add_loop_test(tcase, utf8_span, 0, COUNT(utf8));
    tcase_add_loop_test(tcase, what_nobody_sees, 0, COUNT(unseen));
    tcase_add_test(tcase, utf8_all);
    tcase_add_loop_test(tcase, cells_of_csv, 0, COUNT(cells));
    tcase_add_loop_test(tcase, numbers_of_csv, 0, COUNT(numbers));
    tcase_add_test(tcase, cells_of_other_separators);
    tcase_add_test(tcase, what_a_comma_is_not);
    tcase_add_test(tcase, the_end_of_a_text);
    tcase_add_test(tcase, faults_are_kept_and_counted);
    tcase_add_test(tcase, faults_of_one_line_keep_their_order);
    tcase_add_test(tcase, faults_may_be_nobodys);
    tcase_add_test(tcase, long_text_ends_in_dots);
    tcase_add_test(tcase, every_status_has_words);
    tcase_add_test(tcase, statuses_keep_their_numbers);
    suite_add_tcase(suite, tcase);
    return run(suite);
}
