/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* beaker_given.c: what the bench gives in words, "0.05 mL +- 20 %", and what each question needs.
 */
#include "answer/beaker.h"
#include "base/text.h"
#include "dregs/film.h"
#include "dregs/limits.h"
#include "dregs/unit.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

#define IN(question) (1u << DREGS_BEAKER_##question)
#define RINSING      (IN(PARTS) | IN(RINSES) | IN(BOTTLE) | IN(FRESH))
#define SIZING       (IN(PARTS) | IN(BOTTLE) | IN(FRESH))
#define STANDING     (IN(OPEN) | IN(WARM))
#define EVERY        (RINSING | STANDING)

/* What the words are of. */
enum takes { NUMBER, NUMBER_OR_WORD, WHOLE, WORD };

static const struct form {
    const char *name;
    unsigned used, needed; /* by question */
    enum takes takes;
    int spread;          /* it may have one */
    const char *like[2]; /* a unit of its kind, and of the other kind that it may be of */
    double low, high;    /* SI, of the first kind; of the other any positive number */
    const char *example;
} forms[DREGS_BEAKER_GIVEN] = {
    /* clang-format off */
    [DREGS_BEAKER_LIQUID] = {"liquid", EVERY, EVERY, WORD, 0, {NULL}, 0, 0, "isopropanol"},
    [DREGS_BEAKER_BEAKER] = {"beaker", IN(PARTS) | STANDING, IN(PARTS) | STANDING, NUMBER, 1, {"mL"}, 1e-7, 10, "'200 mL'"},
    [DREGS_BEAKER_TOTAL] = {"total", IN(RINSES), IN(RINSES), NUMBER, 0, {"mL"}, 1e-7, 10, "'100 mL'"},
    [DREGS_BEAKER_TIMES] = {"times", IN(RINSES), 0, WHOLE, 0, {"1"}, 2, BEAKER_RINSES_MOST, "2"},
    [DREGS_BEAKER_LOADS] = {"loads", IN(RINSES), 0, WHOLE, 0, {"1"}, 1, 1e6, "10"},
    [DREGS_BEAKER_PARTS_AT_A_TIME] = {"parts", RINSING, 0, WHOLE, 0, {"1"}, 1, 1e6, "12"},
    [DREGS_BEAKER_AREA] = {"area", RINSING | IN(COOL), IN(COOL), NUMBER, 1, {"cm2"}, 1e-9, 100, "'12 cm2'"},
    [DREGS_BEAKER_DRAG_OUT] = {"drag-out", RINSING, RINSING, NUMBER_OR_WORD, 1, {"mL", "mL/m2"}, 1e-12, 1e-2, "'0.05 mL' of each part, '60 mL/m2' or 'vertical well drained'"},
    [DREGS_BEAKER_FILM] = {"film", RINSING, IN(BOTTLE) | IN(FRESH), NUMBER, 1, {"g/L"}, 1e-9, 1e4, "'2 g/L' of soil in the film that comes in"},
    [DREGS_BEAKER_SOIL] = {"soil", IN(PARTS), 0, NUMBER, 1, {"mg"}, 1e-15, 10, "'0.5 mg' on each part"},
    [DREGS_BEAKER_EXCHANGE] = {"exchange", IN(PARTS) | IN(RINSES) | IN(FRESH), 0, NUMBER, 1, {"%"}, 0.001, 1, "'90 %'"},
    [DREGS_BEAKER_MIXING] = {"mixing", IN(BOTTLE) | IN(FRESH), IN(BOTTLE), NUMBER, 1, {"%"}, 0.001, 1, "'50 %' of what is squirted mixes with the film"},
    [DREGS_BEAKER_LIMIT] = {"limit", RINSING, SIZING, NUMBER_OR_WORD, 0, {"ug/cm2", "mg/L"}, 1e-12, 1, "'1 ug/cm2', '50 mg/L' in the film, or a level such as A"},
    [DREGS_BEAKER_OWN] = {"own", RINSING, 0, NUMBER, 1, {"mg/L"}, 0, 1e3, "'5 mg/L'"},
    [DREGS_BEAKER_AT] = {"at", EVERY, IN(WARM), NUMBER, 0, {"degC"}, 200, 550, "22degC"},
    [DREGS_BEAKER_OPENING] = {"opening", STANDING, IN(OPEN), NUMBER, 0, {"cm", "cm2"}, 1e-3, 10, "'7 cm' across, or '38 cm2'"},
    [DREGS_BEAKER_RIM] = {"rim", STANDING, 0, NUMBER, 0, {"cm"}, 0, 10, "'3 cm'"},
    [DREGS_BEAKER_LOSES] = {"loses", IN(OPEN), 0, NUMBER, 0, {"%"}, 1e-4, 0.9, "'10 %'"},
    [DREGS_BEAKER_AFTER] = {"after", IN(OPEN), 0, NUMBER, 0, {"h"}, 1, 3e7, "'14 h'"},
    [DREGS_BEAKER_ROOM] = {"room", STANDING | IN(COOL), 0, NUMBER, 0, {"degC"}, 273.16, 333.15, "22degC"},
    [DREGS_BEAKER_HUMIDITY] = {"humidity", STANDING, 0, NUMBER, 0, {"%"}, 0, 1, "'45 %'"},
    [DREGS_BEAKER_AIR_SPEED] = {"air-speed", STANDING | IN(COOL), 0, NUMBER, 0, {"m/s"}, 0, 100, "'0.2 m/s'"},
    [DREGS_BEAKER_POWER] = {"power", IN(WARM), IN(WARM), NUMBER, 0, {"W"}, 1e-3, 1e6, "'80 W'"},
    [DREGS_BEAKER_WATER_BATH] = {"water-bath", IN(WARM), 0, NUMBER, 0, {"L"}, 1e-6, 10, "'3 L'"},
    [DREGS_BEAKER_WALL_LOSS] = {"wall-loss", IN(WARM), 0, NUMBER, 0, {"W/K"}, 0, 1e4, "'2 W/K'"},
    [DREGS_BEAKER_TO] = {"to", IN(WARM) | IN(COOL), IN(WARM), NUMBER, 0, {"degC"}, 200, 550, "40degC"},
    [DREGS_BEAKER_FROM] = {"from", IN(COOL), IN(COOL), NUMBER, 0, {"degC"}, 274, 550, "80degC"},
    [DREGS_BEAKER_MASS] = {"mass", IN(COOL), IN(COOL), NUMBER, 0, {"g"}, 1e-9, 1e4, "'15 g'"},
    [DREGS_BEAKER_HEAT_CAPACITY] = {"heat-capacity", IN(COOL), IN(COOL), NUMBER_OR_WORD, 0, {"J/(g.K)"}, 1, 2e4, "steel, or '0.47 J/(g.K)'"},
    [DREGS_BEAKER_HEIGHT] = {"height", IN(COOL), 0, NUMBER, 0, {"cm"}, 1e-4, 10, "'3 cm'"},
    /* clang-format on */
};

static const char *const words[DREGS_BEAKER_QUESTIONS] = {"parts", "rinses", "bottle", "fresh",
                                                          "open",  "warm",   "cool"};

const char *dregs_beaker_word(dregs_beaker_question question)
{
    return (unsigned)question < DREGS_BEAKER_QUESTIONS ? words[question] : NULL;
}

const char *dregs_beaker_given_name(dregs_beaker_given given)
{
    return (unsigned)given < DREGS_BEAKER_GIVEN ? forms[given].name : NULL;
}

int dregs_answer_beaker_has(const struct beaker *b, dregs_beaker_given which)
{
    return b->given[which].text != NULL;
}

double dregs_answer_beaker_or(const struct beaker *b, dregs_beaker_given which, double otherwise)
{
    return b->given[which].text ? b->given[which].si : otherwise;
}

dregs_status dregs_answer_beaker_assume(struct beaker *b, const char *format, ...)
{
    char text[DREGS_BEAKER_MESSAGE];
    va_list arguments;

    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    if (b->assumptions == BEAKER_ASSUMED_MOST)
        return DREGS_NUMERIC;
    b->assumed[b->assumptions] = dregs_pool_text(&b->pool, text);
    return b->assumed[b->assumptions++] ? DREGS_OK : DREGS_NO_MEMORY;
}

/* Specific heats of solids at 300 K, J/(kg K): Incropera and DeWitt, Fundamentals of Heat and Mass
 * Transfer, table A.1 (values from memory): AISI 1010, AISI 304, pure aluminium and copper,
 * cartridge brass, titanium. */
double dregs_answer_beaker_metal(const char *name)
{
    static const struct {
        const char *name;
        double heat;
    } metals[] = {{"steel", 434},  {"stainless", 477}, {"aluminium", 903},
                  {"copper", 385}, {"brass", 380},     {"titanium", 522}};
    size_t i;

    for (i = 0; i < sizeof metals / sizeof metals[0]; i++)
        if (strcmp(metals[i].name, name) == 0)
            return metals[i].heat;
    return NAN;
}

/* ---- one text ---- */

static dregs_status wrong(struct beaker *b, dregs_beaker_given which, const char *why)
{
    char quoted[DREGS_QUOTED];

    snprintf(b->message, DREGS_BEAKER_MESSAGE, "--%s %s: %.400s", forms[which].name,
             dregs_quote(quoted, b->given[which].text), why);
    return DREGS_DOMAIN;
}

#define SI_MOST 1e4 /* of a number of the second kind */

/* "is not within 0.0001 mL to 1e+07 mL" */
static dregs_status out_of_range(struct beaker *b, dregs_beaker_given which)
{
    const struct form *form = &forms[which];
    int second = b->given[which].like == 1;
    const char *like = form->like[second];
    char low[DREGS_NUMBER_TEXT], high[DREGS_NUMBER_TEXT], why[DREGS_UNIT_MESSAGE];
    dregs_unit unit;

    if (dregs_unit_read_like(like, like, &unit, why))
        return wrong(b, which, why);
    (void)dregs_number_plain(low, dregs_unit_from_si(unit, second ? 0 : form->low), 6);
    (void)dregs_number_plain(high, dregs_unit_from_si(unit, second ? SI_MOST : form->high), 6);
    if (strcmp(like, "1") == 0)
        like = "";
    snprintf(why, sizeof why, "is not %s %s%s%s%s to %s%s%s", second ? "above" : "within", low,
             *like ? " " : "", like, second ? " and up" : "", high, *like ? " " : "", like);
    return wrong(b, which, why);
}

/* The number at the head of a text, into `value`; how many bytes it has, 0 for none. */
static size_t number_at(const char *text, char value[DREGS_NUMBER_TEXT])
{
    size_t length = strspn(text, "0123456789.eE+-");
    double read;

    for (; length > 0; length--) {
        if (length >= DREGS_NUMBER_TEXT)
            continue;
        memcpy(value, text, length);
        value[length] = '\0';
        if (!dregs_number_read(value, &read))
            return length;
    }
    return 0;
}

/* "200 mL" into number, unit and SI. */
static dregs_status read_quantity(struct beaker *b, dregs_beaker_given which, const char *text)
{
    const struct form *form = &forms[which];
    struct given *given = &b->given[which];
    char why[DREGS_UNIT_MESSAGE], words_for_it[DREGS_UNIT_MESSAGE + 60];
    size_t digits = number_at(text, given->value);
    const char *unit = text + digits;
    int like, most = form->like[1] ? 2 : 1;

    unit += strspn(unit, " ");
    if (!digits || strlen(unit) >= BEAKER_UNIT) {
        snprintf(words_for_it, sizeof words_for_it, "%s; for example %.150s",
                 digits ? "the unit is too long"
                 : form->takes == NUMBER_OR_WORD
                     ? "is neither a number with a unit nor a known word"
                     : "is not a number with a unit",
                 form->example);
        return wrong(b, which, words_for_it);
    }
    snprintf(given->unit, sizeof given->unit, "%s", unit);
    for (like = 0; like < most; like++)
        if (!dregs_unit_quantity(text, form->like[like], &given->si, why)) {
            given->like = like;
            return DREGS_OK;
        }
    if (!*unit)
        snprintf(words_for_it, sizeof words_for_it, "needs a unit, for example '%s %s'",
                 given->value, form->like[0]);
    else if (most > 1)
        snprintf(words_for_it, sizeof words_for_it, "takes a unit like %s or %s", form->like[0],
                 form->like[1]);
    else
        snprintf(words_for_it, sizeof words_for_it, "%s", why);
    return wrong(b, which, words_for_it);
}

/* One standard deviation as a share of the value; of a share the text has percent points. */
static dregs_status spread_of(struct beaker *b, dregs_beaker_given which, const char *text,
                              double *share)
{
    const struct given *given = &b->given[which];
    char why[DREGS_UNIT_MESSAGE];
    double value;

    if (strcmp(given->unit, "%") == 0) {
        if (dregs_number_read(text, &value))
            return wrong(b, which,
                         "the doubt of a share stands without a unit, in percent points: "
                         "'50 % +- 10'");
        *share = value / (given->si * 100);
    } else if (!dregs_unit_quantity(text, "%", &value, why)) {
        *share = value;
    } else if (!dregs_unit_quantity(text, forms[which].like[given->like], &value, why)) {
        *share = value / given->si;
    } else {
        return wrong(b, which,
                     "behind '+-' stands a share such as 20 %, or one standard deviation "
                     "with its unit");
    }
    return *share > 0 && *share <= 10
               ? DREGS_OK
               : wrong(b, which,
                       "the doubt behind '+-' is above 0 and at most ten times the value");
}

/* What stands behind "+-", as a cell of the column spread. */
static dregs_status read_spread(struct beaker *b, dregs_beaker_given which, const char *text)
{
    struct given *given = &b->given[which];
    char number[DREGS_NUMBER_TEXT];
    double share;
    dregs_status status;

    if (!forms[which].spread || !(SIZING & 1u << b->asked.question))
        return wrong(b, which, "takes no '+-' here");
    status = spread_of(b, which, text + strspn(text, " "), &share);
    if (status)
        return status;
    snprintf(given->spread, sizeof given->spread, "%s%%",
             dregs_number_plain(number, share * 100, 15));
    b->shown.drawn++;
    return DREGS_OK;
}

/* A name in place of a number, where there are such names. */
static int is_word(dregs_beaker_given which, const char *text)
{
    if (which == DREGS_BEAKER_DRAG_OUT)
        return dregs_film_class_named(text) != NULL;
    if (which == DREGS_BEAKER_LIMIT)
        return dregs_level_named(text) != NULL;
    return which == DREGS_BEAKER_HEAT_CAPACITY && !isnan(dregs_answer_beaker_metal(text));
}

static dregs_status read_whole(struct beaker *b, dregs_beaker_given which)
{
    struct given *given = &b->given[which];

    if (dregs_number_read(given->text, &given->si) || given->si != floor(given->si))
        return wrong(b, which, "is not a whole number");
    if (!(given->si >= forms[which].low) || !(given->si <= forms[which].high))
        return out_of_range(b, which);
    snprintf(given->value, sizeof given->value, "%.0f", given->si);
    return DREGS_OK;
}

static dregs_status read_one(struct beaker *b, dregs_beaker_given which)
{
    const struct form *form = &forms[which];
    struct given *given = &b->given[which];
    const char *spread = strstr(given->text, "+-"), *plus_minus = strstr(given->text, "\302\261");
    char head[DREGS_BEAKER_TEXT];
    size_t length;
    dregs_status status;

    given->like = BEAKER_WORD;
    if (strlen(given->text) >= sizeof head)
        return wrong(b, which, "is too long");
    if (form->takes == WHOLE)
        return read_whole(b, which);
    if (form->takes == WORD || (form->takes == NUMBER_OR_WORD && is_word(which, given->text)))
        return DREGS_OK;
    if (!spread)
        spread = plus_minus;
    length = spread ? (size_t)(spread - given->text) : strlen(given->text);
    while (length > 0 && given->text[length - 1] == ' ')
        length--;
    snprintf(head, sizeof head, "%.*s", (int)length, given->text);
    status = read_quantity(b, which, head);
    if (!status && (!(given->si >= (given->like == 0 ? form->low : 0)) ||
                    !(given->si <= (given->like == 0 ? form->high : SI_MOST)) ||
                    (given->like == 1 && !(given->si > 0))))
        status = out_of_range(b, which);
    if (!status && spread)
        status = read_spread(b, which, spread + 2);
    return status;
}

/* ---- all of them ---- */

/* An option that the question needs, in the words of a message. */
static dregs_status missing(struct beaker *b, dregs_beaker_given which, const char *why)
{
    snprintf(b->message, DREGS_BEAKER_MESSAGE, "'%s' needs --%s%s: for example %.300s",
             words[b->asked.question], forms[which].name, why, forms[which].example);
    return DREGS_DOMAIN;
}

/* What a load drags out of the beaker, or of the first of several, is less than it holds. */
static dregs_status holds_enough(struct beaker *b)
{
    int of =
        dregs_answer_beaker_has(b, DREGS_BEAKER_BEAKER) ? DREGS_BEAKER_BEAKER : DREGS_BEAKER_TOTAL;
    const struct given *drag_out = &b->given[DREGS_BEAKER_DRAG_OUT];
    double load = dregs_answer_beaker_or(b, DREGS_BEAKER_PARTS_AT_A_TIME, 1) * drag_out->si;
    char number[DREGS_NUMBER_TEXT];

    if (!b->given[of].text || drag_out->like == BEAKER_WORD)
        return DREGS_OK;
    if (drag_out->like == BEAKER_AREA_VOLUME)
        load *= b->given[DREGS_BEAKER_AREA].si;
    if (load < b->given[of].si)
        return DREGS_OK;
    snprintf(b->message, DREGS_BEAKER_MESSAGE,
             "--drag-out '%.60s': a load drags out %s mL, no less than --%s '%.60s' holds",
             drag_out->text, dregs_number_plain(number, load * 1e6, 3), forms[of].name,
             b->given[of].text);
    return DREGS_DOMAIN;
}

/* What hangs on other options. */
static dregs_status fits_together(struct beaker *b)
{
    const struct given *given = b->given;
    int by_area =
        given[DREGS_BEAKER_LIMIT].text && given[DREGS_BEAKER_LIMIT].like != BEAKER_PER_VOLUME;

    if (!(RINSING & 1u << b->asked.question))
        return DREGS_OK;
    if (given[DREGS_BEAKER_FILM].text && given[DREGS_BEAKER_SOIL].text) {
        snprintf(b->message, DREGS_BEAKER_MESSAGE,
                 "--film and --soil exclude each other: parts come wet or dry");
        return DREGS_DOMAIN;
    }
    if (b->asked.question == DREGS_BEAKER_PARTS && !given[DREGS_BEAKER_FILM].text &&
        !given[DREGS_BEAKER_SOIL].text) {
        snprintf(b->message, DREGS_BEAKER_MESSAGE,
                 "'parts' needs --film or --soil: for example %s, or %s",
                 forms[DREGS_BEAKER_FILM].example, forms[DREGS_BEAKER_SOIL].example);
        return DREGS_DOMAIN;
    }
    if (b->asked.question == DREGS_BEAKER_RINSES && given[DREGS_BEAKER_LIMIT].text &&
        !given[DREGS_BEAKER_FILM].text)
        return missing(b, DREGS_BEAKER_FILM, " with --limit");
    if (given[DREGS_BEAKER_AREA].text)
        return DREGS_OK;
    if (given[DREGS_BEAKER_DRAG_OUT].like != BEAKER_PART_VOLUME)
        return missing(b, DREGS_BEAKER_AREA, " with such a --drag-out");
    return by_area ? missing(b, DREGS_BEAKER_AREA, " with a --limit per area") : DREGS_OK;
}

/* All that the question needs and that is not given, with examples, in one message. */
static dregs_status look_for_missing(struct beaker *b)
{
    unsigned question = 1u << b->asked.question;
    size_t used = 0;
    int i;

    for (i = 0; i < DREGS_BEAKER_GIVEN && used < DREGS_BEAKER_MESSAGE - 1; i++) {
        if (!(forms[i].needed & question) || b->given[i].text)
            continue;
        if (!used)
            used = (size_t)snprintf(b->message, DREGS_BEAKER_MESSAGE, "'%s' needs",
                                    words[b->asked.question]);
        used += (size_t)snprintf(b->message + used, DREGS_BEAKER_MESSAGE - used, "%s --%s (%s)",
                                 b->message[used - 1] == ')' ? "," : "", forms[i].name,
                                 forms[i].example);
    }
    return used ? DREGS_DOMAIN : DREGS_OK;
}

dregs_status dregs_answer_beaker_read(struct beaker *b)
{
    unsigned question = 1u << b->asked.question;
    dregs_status status = DREGS_OK;
    int i;

    for (i = 0; i < DREGS_BEAKER_GIVEN && !status; i++) {
        b->given[i].text = b->asked.given[i];
        if (!b->given[i].text)
            continue;
        if (!(forms[i].used & question)) {
            snprintf(b->message, DREGS_BEAKER_MESSAGE, "'%s' does not use --%s",
                     words[b->asked.question], forms[i].name);
            status = DREGS_DOMAIN;
        } else {
            status = read_one(b, (dregs_beaker_given)i);
        }
    }
    if (!status)
        status = look_for_missing(b);
    if (!status)
        status = fits_together(b);
    return !status && RINSING & question ? holds_enough(b) : status;
}
