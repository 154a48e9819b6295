/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* Pictures and the page for a browser, of charts made by hand. Coordinates are worked out beside
 * them from the layout: a page 720 wide, 14 free at its edges, a plot 270 high.
 */
#include "check_main.h"
#include "dregs/report.h"
#include "report/plot.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct page {
    char text[60000];
    size_t used;
};

static int take(void *user, const char *bytes, size_t length)
{
    struct page *page = user;

    ck_assert_uint_lt(page->used + length, sizeof page->text);
    memcpy(page->text + page->used, bytes, length);
    page->used += length;
    page->text[page->used] = '\0';
    return 0;
}

static const char *picture(dregs_report *report, const char *key, struct page *page)
{
    page->used = 0;
    page->text[0] = '\0';
    ck_assert_int_eq(dregs_report_write_picture(report, key, take, page), DREGS_OK);
    return page->text;
}

static const char *html(dregs_report *report, struct page *page)
{
    page->used = 0;
    page->text[0] = '\0';
    ck_assert_int_eq(dregs_report_write(report, DREGS_REPORT_HTML, 0, 0, take, page), DREGS_OK);
    return page->text;
}

static void holds(const char *text, const char *words)
{
    ck_assert_msg(strstr(text, words) != NULL, "not there: %s\nin\n%s", words, text);
}

static void lacks(const char *text, const char *words)
{
    ck_assert_msg(strstr(text, words) == NULL, "there: %s\nin\n%s", words, text);
}

/* A table of x and y; low and high 1 around the second y. */
static dregs_report *with_table(void)
{
    dregs_report *report = dregs_report_new("predict", "a.csv");
    dregs_table *table = dregs_report_table(report, "t", DREGS_IN_PICTURE);

    dregs_table_column(table, DREGS_COLUMN_NUMBER, "x", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "y", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "name", NULL, "", 0);
    dregs_table_number(table, 0);
    dregs_table_number(table, 0);
    dregs_table_word(table, "one");
    dregs_table_end_row(table);
    dregs_table_number(table, 5);
    dregs_table_within(table, 10, 9, 11);
    dregs_table_word(table, "one");
    dregs_table_end_row(table);
    dregs_table_number(table, 10);
    dregs_table_number(table, 20);
    dregs_table_word(table, "<two> & \"more\"");
    dregs_table_end_row(table);
    return report;
}

static dregs_chart *chart_of(dregs_report *report, dregs_chart_mark mark, const char *x)
{
    dregs_chart *chart = dregs_report_chart(report, "c", "A title");

    dregs_chart_axis_is(chart, DREGS_AXIS_X, "load", "", 0);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "film", "um", 0);
    dregs_chart_series(chart, "s", mark, "t", x, "y");
    return chart;
}

/* One series has no legend: the plot begins at y = 47 + 22 = 69 and ends at 339. The ticks of y are
 * 0, 5, 10, 15, 20 (four steps of 5; of 2 it would be ten, more than seven), the widest takes 16.4,
 * so that the plot begins at x = 14 + 16.4 + 10 = 40.4; it ends 26 from the page's end, at 694. */
START_TEST(a_line_goes_through_its_points)
{
    dregs_report *report = with_table();
    static struct page page;
    const char *text;

    chart_of(report, DREGS_MARK_LINE, "x");
    text = picture(report, "c", &page);
    /* (0, 0) bottom left; (5, 10) in the middle, (40.4 + 694) / 2 = 367.2; (10, 20) top right */
    holds(text, "<path d=\"M40.4 339L367.2 204L694 69\" class=\"l k0 d0\"/>");
    holds(text, "<title id=\"c-t\">A title</title>");
    holds(text, "film, um against load. s: 0 to 20.");
    holds(text, ">film, um</text>");
    holds(text, ">20</text>");
    /* only the second point has an interval: from 11 to 9, 148.5 and 121.5 above the bottom */
    holds(text, "<path d=\"M367.2 190.5L367.2 217.5Z\" class=\"c f0\"/>");
    dregs_report_free(report);
}
END_TEST

START_TEST(steps_go_across_before_they_go_up)
{
    dregs_report *report = with_table();
    static struct page page;

    chart_of(report, DREGS_MARK_STEPS, "x");
    holds(picture(report, "c", &page), "d=\"M40.4 339H367.2V204H694V69\"");
    dregs_report_free(report);
}
END_TEST

/* A limit of 1 on a logarithmic axis with 10 and 20, and 0, which cannot be drawn: it takes in 0.92
 * to 20, which end at 0.5 and 20: log(20/0.5) = 1.60206; 1 lies log 2 / 1.60206 = 0.187902 up, at
 * 339 - 50.73 = 288.27. Words stand within the plot, ending at its right. */
START_TEST(a_limit_lies_at_its_number)
{
    dregs_report *report = with_table();
    static struct page page;
    dregs_chart *chart = chart_of(report, DREGS_MARK_LINE, "x");
    const char *text;

    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "film", "um", 1);
    dregs_chart_limit(chart, "limit", 1);
    text = picture(report, "c", &page);
    holds(text, "y1=\"288.3\"");
    holds(text, "class=\"m\"/>");
    holds(text, ">limit 1 um</text>");
    holds(text, "limit at 1.");
    dregs_report_free(report);
}
END_TEST

/* Against words: "one" has 0 and, in a row of its own that is not looked for again, no more; the
 * second word has 20, the end of the axis, at x = 720 - 14 - 64 = 642. */
START_TEST(bars_stand_at_words_that_are_escaped)
{
    dregs_report *report = with_table();
    static struct page page;
    const char *text;

    chart_of(report, DREGS_MARK_BARS, "name");
    text = picture(report, "c", &page);
    holds(text, "&lt;two&gt; &amp; &quot;more&quot;</text>");
    lacks(text, "<two>");
    holds(text, "x=\"648\" y="); /* its number, 6 behind the bar */
    dregs_report_free(report);
}
END_TEST

/* Spans from 2 to 4 and from 3 to 8, at the words a and b: the names take the least, 40, so that 2
 * lies at 14 + 40 + 10 = 64 and 8 at 720 - 14 - 132 = 574, 85 for each unit; without a legend the
 * first bar is at y = 47, the next 30 below. Their numbers stand 6 behind them. */
START_TEST(spans_need_not_begin_at_0)
{
    dregs_report *report = dregs_report_new("predict", "a.csv");
    dregs_table *table = dregs_report_table(report, "t", DREGS_IN_PICTURE);
    static struct page page;
    const char *text;

    dregs_table_column(table, DREGS_COLUMN_WORD, "name", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "y", NULL, "", 0);
    dregs_table_word(table, "a");
    dregs_table_within(table, 2, 2, 4);
    dregs_table_end_row(table);
    dregs_table_word(table, "b");
    dregs_table_within(table, 8, 3, 8);
    dregs_table_end_row(table);
    chart_of(report, DREGS_MARK_SPANS, "name");
    text = picture(report, "c", &page);
    holds(text, "x=\"64\" y=\"47\" width=\"170\" height=\"20\"");
    holds(text, "x=\"149\" y=\"77\" width=\"425\" height=\"20\"");
    holds(text, "<text x=\"240\" y=\"62\"");
    holds(text, ">2 to 4</text>");
    holds(text, ">3 to 8</text>");
    dregs_report_free(report);
}
END_TEST

static const struct wild {
    const char *text, *escaped;
} wild[] = {
    {"</title><script>alert(1)</script>", "&lt;/title&gt;&lt;script&gt;alert(1)&lt;/script&gt;"},
    {"\" onload=\"x", "&quot; onload=&quot;x"},
    {"a\x01"
     "b",
     "a b"},
    {"\xFF&", "\xEF\xBF\xBD&amp;"},
    {"\xC3\xA4", "\xC3\xA4"}};

/* Wherever a text can come from a file. */
START_TEST(nothing_is_injected)
{
    const char *text = wild[_i].text, *found;
    dregs_report *report = dregs_report_new("predict", text);
    dregs_chart *chart = dregs_report_chart(report, "c", text);
    dregs_flow *flow = dregs_report_flow(report, "f", text, DREGS_FLOW_STAGES, text);
    dregs_flow *wide = dregs_report_flow(report, "w", text, DREGS_FLOW_WIDTHS, text);
    dregs_table *table = dregs_report_table(report, "t", DREGS_IN_TEXT);
    static struct page page;

    dregs_table_column(table, DREGS_COLUMN_NUMBER, "x", text, text, 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "y", text, text, 0);
    dregs_table_number(table, 1);
    dregs_table_word(table, text);
    dregs_table_end_row(table);
    dregs_chart_axis_is(chart, DREGS_AXIS_X, text, text, 0);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, text, text, 0);
    dregs_chart_series(chart, text, DREGS_MARK_LINE, "t", "x", "x");
    dregs_chart_limit(chart, text, 2);
    dregs_chart_event(chart, text, 1);
    dregs_chart_band(chart, text, 0, 1);
    dregs_chart_marker(chart, text, 1, 1);
    dregs_chart_note(chart, "%s", text);
    (void)dregs_flow_node(flow, 0, text, text);
    dregs_flow_liquid(flow, 0, DREGS_FLOW_OUTSIDE, text, 0);
    dregs_flow_parts(flow, 0, DREGS_FLOW_OUTSIDE, text);
    (void)dregs_flow_node(wide, 0, text, text);
    (void)dregs_flow_node(wide, 2, text, text);
    dregs_flow_liquid(wide, 0, 1, text, 3);
    dregs_report_heading(report, "%s", text);
    dregs_report_line(report, 0, "%s", text);
    dregs_report_assumed(report, text);
    dregs_report_caution(report, "hot", text, text, NULL, NAN, NULL);
    dregs_report_caution_severity(report, text);
    dregs_report_input(report, text, text, strlen(text));
    dregs_report_date(report, text);
    found = html(report, &page);
    holds(found, wild[_i].escaped);
    lacks(found, "<script");
    lacks(found, "\" onload");
    lacks(found, "\x01");
    lacks(found, "\xFF");
    holds(picture(report, "f", &page), wild[_i].escaped);
    dregs_report_free(report);
}
END_TEST

/* FIPS 180-4's own examples, as NIST publishes them: "abc", the empty message, and the one of 448
 * bits. */
START_TEST(a_digest_is_sha_256)
{
    static const char *const known[][2] = {
        {"abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"},
        {"", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"},
        {"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
         "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"}};
    char digest[DIGEST_TEXT];
    size_t i;

    for (i = 0; i < 3; i++) {
        dregs_report_digest(known[i][0], strlen(known[i][0]), digest);
        ck_assert_str_eq(digest, known[i][1]);
    }
}
END_TEST

static void rounds(double low, double high, int logarithmic, double from, double to, size_t count)
{
    struct scale scale = {low, high, logarithmic, 0, 1};
    struct ticks ticks;

    dregs_report_scale_round(&scale, 7, &ticks);
    ck_assert_double_eq_tol(scale.low, from, 1e-9 * fabs(to));
    ck_assert_double_eq_tol(scale.high, to, 1e-9 * fabs(to));
    ck_assert_uint_eq(ticks.count, count);
}

/* By hand: steps of 1, 2 and 5, at most seven of them and the one at the end. */
START_TEST(ticks_are_round)
{
    rounds(0, 20, 0, 0, 20, 5);         /* by 5 */
    rounds(0, 0.1046, 0, 0, 0.12, 7);   /* by 0.02 */
    rounds(-3, 4, 0, -3, 4, 8);         /* by 1 */
    rounds(7, 7, 0, 3, 11, 9);          /* nothing but 7: 3.5 to 10.5, by 1, outwards */
    rounds(0.3, 20, 1, 0.2, 20, 7);     /* 0.2 0.5 1 2 5 10 20 */
    rounds(1.5, 30000, 1, 1, 50000, 5); /* the decades from 1 to 10000 */
    rounds(NAN, NAN, 0, 0, 1, 6);       /* no value */
}
END_TEST

START_TEST(pictures_are_named_and_others_unknown)
{
    dregs_report *report = with_table();
    static struct page page = {.used = 0};
    const char *title = NULL;

    dregs_chart_shown(chart_of(report, DREGS_MARK_LINE, "x"), DREGS_IN_JSON);
    ck_assert_ptr_null(dregs_report_picture(report, 0, &title));
    (void)dregs_report_flow(report, "f", "Flow", DREGS_FLOW_STAGES, "");
    ck_assert_str_eq(dregs_report_picture(report, 0, &title), "f");
    ck_assert_str_eq(title, "Flow");
    ck_assert_ptr_null(dregs_report_picture(report, 1, &title));
    ck_assert_int_eq(dregs_report_write_picture(report, "c", take, &page), DREGS_UNKNOWN);
    ck_assert_uint_eq(page.used, 0);
    dregs_report_free(report);
}
END_TEST

static const char *after_style(const char *text)
{
    const char *end = strstr(text, "</style>\n");

    ck_assert_ptr_nonnull(end);
    return end + strlen("</style>\n");
}

/* 6 L of 10 L come from the one, 4 from the other: bands of 180 and 120 of 300 pixels, from y = 60
 * on, the second box 26 below the first and at least as high as its words: 266. Boxes stand at 176
 * and 490 and are 14 wide; the curves' handles are half way, at (190 + 490) / 2. Words stand 8
 * beside the boxes, the names 1 above the middle of the box and the amounts 15 below it. The
 * picture ends 26 below the lowest box, at 266 + 120 + 26. */
static const char golden[] =
    "<rect x=\"0\" y=\"0\" width=\"720\" height=\"412\" class=\"bg\"/>\n"
    "<text x=\"14\" y=\"25\" class=\"t\">Flow</text>\n"
    "<path d=\"M190 60C340 60 340 60 490 60L490 240C340 240 340 240 190 240Z\" class=\"v f0\">"
    "<title>a to c: 6 L</title></path>\n"
    "<path d=\"M190 266C340 266 340 240 490 240L490 360C340 360 340 386 190 386Z\" class=\"v f1\">"
    "<title>b to c: 4 L</title></path>\n"
    "<rect x=\"176\" y=\"60\" width=\"14\" height=\"180\" class=\"ph\"/>\n"
    "<text x=\"168\" y=\"149\" class=\"b\" text-anchor=\"end\">a</text>\n"
    "<text x=\"168\" y=\"165\" class=\"s\" text-anchor=\"end\">6 L</text>\n"
    "<rect x=\"176\" y=\"266\" width=\"14\" height=\"120\" class=\"ph\"/>\n"
    "<text x=\"168\" y=\"325\" class=\"b\" text-anchor=\"end\">b</text>\n"
    "<text x=\"168\" y=\"341\" class=\"s\" text-anchor=\"end\">4 L</text>\n"
    "<rect x=\"490\" y=\"60\" width=\"14\" height=\"300\" class=\"ph\"/>\n"
    "<text x=\"512\" y=\"209\" class=\"b\">c</text>\n"
    "<text x=\"512\" y=\"225\" class=\"s\">10 L</text>\n"
    "</svg>\n";

START_TEST(bands_are_as_wide_as_their_amounts)
{
    dregs_report *report = dregs_report_new("tally", "a.csv");
    dregs_flow *flow = dregs_report_flow(report, "f", "Flow", DREGS_FLOW_WIDTHS, "L");
    static struct page page;
    int a = dregs_flow_node(flow, 0, "a", ""), b = dregs_flow_node(flow, 0, "b", ""),
        c = dregs_flow_node(flow, 2, "c", "");

    dregs_flow_liquid(flow, a, c, "", 6);
    dregs_flow_liquid(flow, b, c, "", 4);
    dregs_flow_liquid(flow, b, c, "", 0); /* nothing is left out */
    ck_assert_str_eq(after_style(picture(report, "f", &page)), golden);
    holds(page.text, "viewBox=\"0 0 720 412\"");
    holds(page.text, ">a to c: 6 L. b to c: 4 L. </desc>");
    dregs_report_free(report);
}
END_TEST

/* What a page of HTML says stands in this order. */
START_TEST(the_verdict_stands_first)
{
    static const char *const order[] = {
        "<h1>",   "target MISSED", "Pictures", "<svg",      "Numbers",  "scope=\"col\"", "a guess",
        "danger", "warning",       "x,y",      "<details>", "one step", "made 1970"};
    dregs_report *report = with_table(), *working = dregs_report_new("predict", "a.csv");
    static struct page page;
    const char *at;
    size_t i;
    dregs_table *table;

    dregs_report_line(report, 0, "a line");
    dregs_report_line(working, 0, "a line");
    dregs_report_line(working, 0, "one step");
    dregs_report_line(report, 0, "target MISSED");
    dregs_report_verdict(report, DREGS_VERDICT_MISSED);
    dregs_report_heading(report, "a heading");
    table = dregs_report_table(report, "u", DREGS_IN_TEXT);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "x", "head", "mg", 0);
    chart_of(report, DREGS_MARK_LINE, "x");
    dregs_report_assumed(report, "a guess");
    dregs_report_caution(report, "b", "later", "", NULL, NAN, NULL);
    dregs_report_caution_severity(report, "warning");
    dregs_report_caution(report, "a", "sooner", "", NULL, NAN, NULL);
    dregs_report_caution_severity(report, "danger");
    dregs_report_input(report, "a.csv", "x,y\n", 4);
    dregs_report_working(report, working);
    dregs_report_date(report, "1970-01-01");
    at = strstr(html(report, &page), "</style>");
    for (i = 0; i < sizeof order / sizeof order[0]; i++) {
        const char *next = at ? strstr(at, order[i]) : NULL;
        ck_assert_msg(next != NULL, "'%s' does not come behind '%s'", order[i],
                      i ? order[i - 1] : "");
        at = next;
    }
    dregs_report_free(working);
    dregs_report_free(report);
}
END_TEST

/* Where nothing is judged the first sentence stands where verdicts do. */
START_TEST(the_first_sentence_leads_where_nothing_is_judged)
{
    dregs_report *report = dregs_report_new("tally", "a.csv");
    static struct page page;
    const char *text;

    dregs_report_line(report, 0, "a year takes    3 L");
    dregs_report_line(report, 2, "of water");
    dregs_report_line(report, 0, "and more");
    text = html(report, &page);
    holds(text, "<div class=\"v\"><p class=\"w\">a year takes\xE2\x80\x83"
                "3 L</p>\n<p>of water</p>\n</div>\n<p>and more</p>");
    dregs_report_free(report);
}
END_TEST

/* What is no limit is not drawn as one: 10 of 0 to 20, half way up from 339 to 69. */
START_TEST(a_reference_is_no_limit)
{
    dregs_report *report = with_table();
    static struct page page;
    dregs_chart *chart = chart_of(report, DREGS_MARK_LINE, "x");
    const char *text;

    dregs_chart_reference(chart, "as stated", 10);
    text = picture(report, "c", &page);
    holds(text, "y1=\"204\" x2=\"694\" y2=\"204\" class=\"e\"/>");
    holds(text, "class=\"b h\">as stated 10 um</text>");
    lacks(text, "class=\"m\"/>");
    dregs_report_free(report);
}
END_TEST

static Suite *suite(void)
{
    const TTest *const tests[] = {a_line_goes_through_its_points,
                                  steps_go_across_before_they_go_up,
                                  a_limit_lies_at_its_number,
                                  bars_stand_at_words_that_are_escaped,
                                  spans_need_not_begin_at_0,
                                  a_reference_is_no_limit,
                                  the_first_sentence_leads_where_nothing_is_judged,
                                  a_digest_is_sha_256,
                                  ticks_are_round,
                                  pictures_are_named_and_others_unknown,
                                  bands_are_as_wide_as_their_amounts,
                                  the_verdict_stands_first};
    Suite *s = suite_create("picture");
    TCase *c = tcase_create("drawn");
    size_t i;

    suite_add_tcase(s, c);
    for (i = 0; i < sizeof tests / sizeof tests[0]; i++)
        tcase_add_test(c, tests[i]);
    tcase_add_loop_test(c, nothing_is_injected, 0, (int)(sizeof wild / sizeof wild[0]));
    return s;
}

int main(void)
{
    return run(suite());
}
