/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dry_page.c: dregs-dry's pages. */
#include "dry.h"
#include "json.h"
#include "page.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define CELSIUS(kelvin) ((kelvin)-273.15)

/* "41 s", "12 min", "3.1 h" */
static const char *span(char into[40], double seconds)
{
    char number_text[DREGS_NUMBER_TEXT];
    double value = seconds < 180 ? seconds : seconds < 7200 ? seconds / 60 : seconds / 3600;

    if (!isfinite(seconds))
        return strcpy(into, "-");
    snprintf(into, 40, "%s %s", dregs_number_plain(number_text, value, 3),
             seconds < 180    ? "s"
             : seconds < 7200 ? "min"
                              : "h");
    return into;
}

static const dregs_dry_row *row_at(const struct dry *dry, unsigned index)
{
    return dregs_dry_result_row(dry->result, index);
}

static const char *film_name(const dregs_dry_row *row, char into[96])
{
    char a[DREGS_NUMBER_TEXT];

    if (row->film.count > 1)
        snprintf(into, 96, "%s %s %%", row->film.liquid[0],
                 dregs_number_plain(
                     a, row->film.mass[0] / (row->film.mass[0] + row->film.mass[1]) * 100, 3));
    else
        snprintf(into, 96, "%s", row->film.liquid[0]);
    return into;
}

static void print_first(const struct dry *dry)
{
    const dregs_dry_row *row = row_at(dry, 0);
    struct numbers n = {0};
    char time[40], name[96], shown[40];
    double seconds = row->time;
    unsigned i;

    printf("%s%s%s g/m2 of %s%s%s\n\n", row->stage ? row->stage : "", row->stage ? ": " : "",
           number(&n, (row->film.mass[0] + row->film.mass[1]) * 1e3), film_name(row, name),
           dry->line ? ", " : "", dry->line ? dry->line : "");
    for (i = 0; i < dry->result->rows; i++) {
        row = row_at(dry, i);
        if (!row->drying.dry) {
            printf("at %s degC%s%s it does not dry within 1e7 s: the air is full of its vapour\n",
                   number(&n, CELSIUS(row->film.air)), row->stage ? " in " : "",
                   row->stage ? row->stage : "");
            continue;
        }
        printf("dry in %s at %s degC%s%s; %s decides", span(shown, row->time),
               number(&n, CELSIUS(row->film.air)), row->stage ? " in " : "",
               row->stage ? row->stage : "",
               row->by_recess ? "the recess, by diffusion through its mouth" : "the film");
        if (i > 0 && row_at(dry, 0)->drying.dry)
            printf(" (%s times as fast as the first, %s)", number(&n, seconds / row->time),
                   span(time, seconds));
        printf("\n");
    }
}

/* Each caution once, with the numbers of the drying where it weighs most; what must be read before
 * anything else is `pressing`. */
static void print_cautions(const struct dry *dry, int pressing)
{
    const dregs_caution *caution;
    unsigned i, shown = 0;

    for (i = 0; (caution = dregs_dry_result_caution(dry->result, i)) != NULL; i++) {
        const dregs_dry_row *row = dregs_dry_result_row(dry->result, (unsigned)caution->facts);
        char head[80];
        if (caution->rule->pressing != pressing)
            continue;
        if (!shown++ && !pressing)
            printf("\ncautions\n");
        snprintf(head, sizeof head, row ? "%s%s, %.4g degC: " : "%s%s: ", pressing ? "" : "  ",
                 caution->rule->id, row ? CELSIUS(row->film.air) : 0);
        printf("%s", head);
        wrapped(caution->text, columns(head), 4);
    }
    if (shown && !pressing) {
        printf("  ");
        wrapped(dregs_caution_deference(), 2, 4);
    }
    if (shown && pressing)
        printf("\n");
}

static void print_table(const struct dry *dry)
{
    unsigned i;
    struct numbers n = {0};
    char text[40];

    printf(
        "\n   air      film dry   isothermal     wet bulb      coldest    dew point   vapour peak\n"
        "  degC                       bound        bound         degC         degC     %% of "
        "limit\n");
    for (i = 0; i < dry->result->rows; i++) {
        const dregs_dry_row *row = row_at(dry, i);
        cell(number(&n, CELSIUS(row->film.air)), -6);
        cell(row->drying.dry ? span(text, row->drying.time) : "never", -14);
        cell(span(text, row->isothermal), -13);
        cell(span(text, row->wet_bulb), -13);
        cell(number(&n, CELSIUS(row->drying.coldest)), -13);
        cell(isnan(row->drying.dew_point) ? "-" : number(&n, CELSIUS(row->drying.dew_point)), -13);
        cell(row->film.volume > 0 && row->drying.peak > 0 ? number(&n, row->drying.peak * 100)
                                                          : "-",
             -14);
        printf("\n");
    }
}

/* The way there, for one drying: when how much is left. */
static void print_curve(const struct dry *dry)
{
    static const double left[] = {1, 0.75, 0.5, 0.25, 0.1, 0.01};
    const dregs_dry_row *row = row_at(dry, 0);
    const dregs_drying *d = &row->drying;
    struct numbers n = {0};
    char text[40];
    size_t p = 0;
    unsigned i;

    if (dry->result->rows != 1 || d->points < 2)
        return;
    printf("\n    liquid left        after   temperature  vapour in the air\n"
           "             %%                        degC         %% of limit\n");
    for (i = 0; i < sizeof left / sizeof left[0]; i++) {
        while (p < d->points && d->point[p].total > left[i] * d->point[0].total)
            p++;
        if (p == d->points)
            return;
        cell(number(&n, d->point[p].total / d->point[0].total * 100), -14);
        cell(span(text, d->point[p].time), -13);
        cell(number(&n, CELSIUS(d->point[p].temperature)), -14);
        cell(row->film.volume > 0 ? number(&n, d->point[p].flammable * 100) : "-", -19);
        printf("\n");
    }
}

static void print_air(const struct dry *dry)
{
    struct numbers n = {0};
    char text[40];
    unsigned i;

    for (i = 0; i < dry->result->rows; i++) {
        const dregs_dry_row *row = row_at(dry, i);
        if (!isnan(row->recess))
            printf("at %s degC the recess is dry after %s\n", number(&n, CELSIUS(row->film.air)),
                   span(text, row->recess));
        /* rounded up: it is a figure to be safe by */
        if (row->needed == 0)
            printf("at %s degC the vapour stays below 25 %% of the lower flammable limit without "
                   "fresh air\n",
                   number(&n, CELSIUS(row->film.air)));
        else if (!isnan(row->needed))
            printf(
                "at %s degC fresh air of %s m3/h keeps the vapour at 25 %% of the lower flammable "
                "limit\n",
                number(&n, CELSIUS(row->film.air)), number(&n, row->needed * 3600 * 1.001));
        if (row->film.volume > 0 &&
            dregs_liquids_row(row->film.liquids, row->film.liquid[0], DREGS_EXPOSURE_LIMIT))
            printf("at %s degC the vapour reaches %s ppm\n", number(&n, CELSIUS(row->film.air)),
                   number(&n, row->drying.peak_share[0] * 1e6));
    }
    if (!isnan(row_at(dry, 0)->dilution))
        printf("the vapour of one load, %s g, takes %s m3 of air to 25 %% of the lower flammable "
               "limit\n",
               number(&n, row_at(dry, 0)->vapour * 1e3), number(&n, row_at(dry, 0)->dilution));
    if (!isnan(dry->result->residue))
        printf("the film of the worst load leaves %s ug/cm2 (dregs-predict)\n",
               number(&n, dry->result->residue * UG_PER_CM2));
}

static void print_assumed(const struct dry *dry)
{
    unsigned i, k, a, b, seen;

    printf("\nassumed, because it is not stated\n");
    for (i = 0; i < dry->result->rows; i++)
        for (k = 0; k < row_at(dry, i)->assumed_count; k++) {
            for (a = 0, seen = 0; a < i; a++)
                for (b = 0; b < row_at(dry, a)->assumed_count; b++)
                    seen =
                        seen || strcmp(row_at(dry, a)->assumed[b], row_at(dry, i)->assumed[k]) == 0;
            if (!seen)
                printf("  %s\n", row_at(dry, i)->assumed[k]);
        }
}

int dry_page_text(const struct dry *dry)
{
    print_cautions(dry, 1);
    print_first(dry);
    print_table(dry);
    print_curve(dry);
    print_air(dry);
    print_assumed(dry);
    print_cautions(dry, 0);
    return FRONT_DONE;
}

static void csv_value(double time, const char *quantity, const char *liquid, double value,
                      const char *unit)
{
    char a[DREGS_NUMBER_TEXT], b[DREGS_NUMBER_TEXT], name[160];

    snprintf(name, sizeof name, "%s%s%s", quantity, *liquid ? " of " : "", liquid);
    printf("%s,", dregs_number_exact(a, time));
    csv_name(name);
    printf(",%s,%s\n", dregs_number_exact(b, value), unit);
}

int dry_page_csv(const struct dry *dry)
{
    const dregs_drying *d = &row_at(dry, 0)->drying;
    size_t p;
    unsigned i;

    printf("time,quantity,value,unit\n");
    for (p = 0; p < d->points; p++) {
        const dregs_dry_point *point = &d->point[p];
        csv_value(point->time, "temperature", "", CELSIUS(point->temperature), "degC");
        csv_value(point->time, "liquid", "", point->total * 1e3, "g/m2");
        for (i = 0; i < d->volatiles; i++)
            csv_value(point->time, "liquid", d->liquid[i], fmax(point->mass[i], 0) * 1e3, "g/m2");
        if (row_at(dry, 0)->film.volume > 0) {
            csv_value(point->time, "vapour of the flammable limit", "", point->flammable, "1");
            for (i = 0; i < d->volatiles; i++)
                csv_value(point->time, "vapour", d->liquid[i], point->share[i] * 1e6, "ppm");
        }
    }
    return FRONT_DONE;
}

static json_t *row_object(const dregs_dry_row *row, int *failed)
{
    json_t *object = json_object(), *list = json_array(), *curve = json_array();
    unsigned i;
    size_t p;

    json_put(failed, object, "stage", row->stage ? json_string(row->stage) : json_null());
    json_put(failed, object, "liquid", json_string(row->film.liquid[0]));
    json_put(failed, object, "air temperature", json_number_or_null(CELSIUS(row->film.air)));
    json_put(failed, object, "dry", json_boolean(row->drying.dry));
    json_put(failed, object, "time", json_number_or_null(row->drying.dry ? row->drying.time : NAN));
    json_put(failed, object, "isothermal time", json_number_or_null(row->isothermal));
    json_put(failed, object, "wet bulb time", json_number_or_null(row->wet_bulb));
    json_put(failed, object, "recess time", json_number_or_null(row->recess));
    json_put(failed, object, "coldest", json_number_or_null(CELSIUS(row->drying.coldest)));
    json_put(failed, object, "dew point", json_number_or_null(CELSIUS(row->drying.dew_point)));
    json_put(failed, object, "wet spots", json_boolean(row->drying.wet_spots));
    json_put(failed, object, "peak of flammable limit", json_number_or_null(row->drying.peak));
    json_put(failed, object, "peak", json_number_or_null(row->drying.peak_share[0] * 1e6));
    json_put(failed, object, "fresh air", json_number_or_null(row->needed));
    json_put(failed, object, "dilution air", json_number_or_null(row->dilution));
    for (i = 0; i < row->assumed_count; i++)
        if (json_array_append_new(list, json_string(row->assumed[i])))
            *failed = 1;
    json_put(failed, object, "assumed", list);
    list = json_array();
    for (i = 0; i < row->caution_count; i++) {
        json_t *one = json_object();
        json_put(failed, one, "id", json_string(row->caution[i].rule->id));
        json_put(failed, one, "text", json_string(row->caution[i].text));
        json_put(failed, one, "source", json_string(row->caution[i].source));
        if (json_array_append_new(list, one))
            *failed = 1;
    }
    json_put(failed, object, "cautions", list);
    for (p = 0; p < row->drying.points; p++) {
        const dregs_dry_point *point = &row->drying.point[p];
        json_t *one = json_object();
        json_put(failed, one, "time", json_number_or_null(point->time));
        json_put(failed, one, "temperature", json_number_or_null(CELSIUS(point->temperature)));
        json_put(failed, one, "liquid", json_number_or_null(fmax(point->total, 0) * 1e3));
        json_put(failed, one, "flammable", json_number_or_null(point->flammable));
        for (i = 0; i < row->drying.volatiles; i++) {
            json_t *volatile_ = json_object();
            json_put(failed, volatile_, "liquid",
                     json_number_or_null(fmax(point->mass[i], 0) * 1e3));
            json_put(failed, volatile_, "vapour", json_number_or_null(point->share[i] * 1e6));
            json_put(failed, one, row->drying.liquid[i], volatile_);
        }
        if (json_array_append_new(curve, one))
            *failed = 1;
    }
    json_put(failed, object, "curve", curve);
    return object;
}

int dry_page_json(const struct dry *dry)
{
    json_t *object = json_object(), *rows = json_array(), *units = json_object();
    char *text = NULL;
    int failure = 0, *failed = &failure;
    unsigned i;

    for (i = 0; i < dry->result->rows; i++)
        if (json_array_append_new(rows, row_object(row_at(dry, i), failed)))
            failure = 1;
    json_put(failed, units, "time", json_string("s"));
    json_put(failed, units, "temperature", json_string("degC"));
    json_put(failed, units, "liquid", json_string("g/m2"));
    json_put(failed, units, "peak", json_string("ppm"));
    json_put(failed, units, "fresh air", json_string("m3/s"));
    json_put(failed, units, "dilution air", json_string("m3"));
    json_put(failed, object, "dryings", rows);
    json_put(failed, object, "units", units);
    json_put(failed, object, "film residue", json_number_or_null(dry->result->residue * MG_PER_M2));
    json_put(failed, object, "deference", json_string(dregs_caution_deference()));
    if (!failure)
        text = json_dumps(object, JSON_INDENT(1));
    json_decref(object);
    if (!text)
        return front_say(FRONT_IO, "out of memory");
    printf("%s\n", text);
    free(text);
    return FRONT_DONE;
}

static void explain_property(const dregs_dry_row *row, unsigned i, dregs_property property,
                             double temperature)
{
    const dregs_liquid_row *source =
        dregs_liquids_row(row->film.liquids, row->drying.liquid[i], property);
    struct numbers n = {0};
    double value;

    if (!source || dregs_liquids_value(row->film.liquids, row->drying.liquid[i], property,
                                       temperature, &value, NULL))
        return;
    printf("    %s of %s at %s degC = %s %s  by %s  [%s, %s]\n", dregs_property_name(property),
           row->drying.liquid[i], number(&n, CELSIUS(temperature)), number(&n, value),
           dregs_property_unit(property), source->equation, source->source, source->evidence);
}

static void explain_row(const dregs_dry_row *row)
{
    static const dregs_property shown[] = {DREGS_VAPOUR_PRESSURE, DREGS_HEAT_OF_VAPORISATION,
                                           DREGS_HEAT_CAPACITY,   DREGS_DIFFUSIVITY,
                                           DREGS_MOLAR_MASS,      DREGS_LOWER_LIMIT};
    const dregs_dry_case *film = &row->film;
    const dregs_drying *d = &row->drying;
    struct numbers n = {0};
    unsigned i, k;

    printf("\n  air at %s degC, speed %s m/s, humidity %s; part and film %s degC at first, %s "
           "J/(m2 K), "
           "length %s m\n",
           number(&n, CELSIUS(film->air)), number(&n, film->speed), number(&n, film->humidity),
           number(&n, CELSIUS(film->start)), number(&n, film->heat_capacity),
           number(&n, film->length));
    for (i = 0; i < d->volatiles; i++)
        for (k = 0; k < sizeof shown / sizeof shown[0]; k++)
            explain_property(row, i, shown[k], film->start);
    if (!isnan(row->heat_transfer))
        printf(
            "    h at first, by temperature alone = %s W/(m2 K)  [flat plate, Pohlhausen; vertical "
            "plate, Churchill and Chu 1975: the larger]\n",
            number(&n, row->heat_transfer));
    printf("    k_i = h / (rho cp) (D_i / a)^(2/3)  [Chilton and Colburn 1934]\n"
           "    N_i = k_i M_i P / (R T_f) ln((P - p_i,far) / (P - p_i,surface))  [Stefan flow]\n"
           "    dw_i/dt = -N_i;  (C + sum w_i c_i) dT/dt = h (T_air - T) + eps sigma (T_wall^4 - "
           "T^4) - "
           "sum N_i L_i\n");
    printf("    heat by convection %s, by radiation %s, gone by evaporation %s, stored %s J/m2\n",
           number(&n, d->convected), number(&n, d->radiated), number(&n, d->latent),
           number(&n, d->stored));
    printf("    %lu steps of GSL's msbdf at 1e-9; the end by Brent's method\n",
           (unsigned long)d->points);
}

int dry_page_explain(const struct dry *dry)
{
    unsigned i;
    int status = dry_page_text(dry);

    printf("\nthe working\n");
    for (i = 0; i < dry->result->rows; i++)
        explain_row(row_at(dry, i));
    return status;
}
