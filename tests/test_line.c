/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_line.c: the line file, from every property's SI value to every fault its reader knows; the
 * films and volume rates that follow, against arithmetic by hand.
 */
#include "check_main.h"
#include "dregs/line.h"
#include "dregs/stage.h"
#include "line/line.h"

#include <stdlib.h>
#include <string.h>

/* A liquid with round constants, for arithmetic by hand. */
#define PLAIN                                                                                      \
    "liquid,property,equation,unit,A,source\n"                                                     \
    "plain,density,A,kg/m3,800,made up\n"                                                          \
    "plain,viscosity,A,mPa.s,1,made up\n"                                                          \
    "plain,surface tension,A,mN/m,72,made up\n"                                                    \
    "plain,vapour pressure,A,Pa,2000,made up\n"                                                    \
    "plain,molar mass,A,g/mol,64,made up\n"                                                        \
    "bare,density,A,kg/m3,800,made up\n"

static dregs_liquids *table;
static dregs_line *line;
static dregs_faults faults;

static void setup(void)
{
    table = dregs_liquids_new();
    ck_assert_ptr_nonnull(table);
    ck_assert_int_eq(dregs_liquids_add(table, "plain.csv", PLAIN, strlen(PLAIN), NULL), DREGS_OK);
    line = NULL;
}

static void teardown(void)
{
    dregs_line_free(line);
    line = NULL;
    dregs_liquids_free(table);
}

static dregs_status parse_bytes(const char *bytes, size_t length)
{
    memset(&faults, 0, sizeof faults);
    return dregs_line_parse("own.csv", bytes, length, table, &line, &faults);
}

static void parse(const char *text)
{
    dregs_status status = parse_bytes(text, strlen(text));

    ck_assert_msg(status == DREGS_OK, "line %lu: %s", faults.fault[0].line, faults.fault[0].text);
    ck_assert_uint_eq(faults.count, 0);
    ck_assert_ptr_nonnull(line);
}

static void check_value(const dregs_value *value, double si, double sd, unsigned long at,
                        const char *what)
{
    ck_assert_near(value->si, si, 1e-13, "%s", what);
    ck_assert_near(value->sd, sd, 1e-12, "spread of %s", what);
    ck_assert_msg(value->row > 0, "%s has no row", what);
    ck_assert_msg(dregs_line_row(line, value->row)->line == at, "%s: line %lu, expected %lu", what,
                  dregs_line_row(line, value->row)->line, at);
}

/* ---- the description ---- */

/* Every property of every kind but `level`; columns in another order, a byte order mark, carriage
 * returns, rows that count for nothing, a cell over two lines. */
static const char awkward[] = "\xEF\xBB\xBFnote,unit,value,spread,property,item\r\n"      /* 1 */
                              "# a remark, with \"quotes, that count for nothing\r\n"     /* 2 */
                              ",,load,,kind,basket\r\n"                                   /* 3 */
                              "counted,1,24,,parts,basket\r\n"                            /* 4 */
                              "\"a \"\"drawing\"\", rev. B\",in2,9.46,5%,area,basket\r\n" /* 5 */
                              ",cm2,912.5,20 %,extra area,basket\r\n"                     /* 6 */
                              "\r\n"                                                      /* 7 */
                              ",mL,.047,0.012,hold-up,basket\r\n"                         /* 8 */
                              ",cm,2.385,,edge,basket\r\n"                                /* 9 */
                              ",mm,75,,height,basket\r\n"                                 /* 10 */
                              ",min,7.25,,interval,basket\r\n"                            /* 11 */
                              ",g,13.4,,mass,basket\r\n"                                  /* 12 */
                              ",J/(g.K),0.897,,heat capacity,basket\r\n"                  /* 13 */
                              ",mm2,1.3,,recess area,basket\r\n"                          /* 14 */
                              ",mm,4.1,,recess depth,basket\r\n"                          /* 15 */
                              ",,,,,\r\n"                                                 /* 16 */
                              ",,solute,,kind,oil\r\n"                                    /* 17 */
                              ",mg,2.4,40%,on parts,oil\r\n"                              /* 18 */
                              ",,solute,,kind,salt\r\n"                                   /* 19 */
                              ",uS/cm per mg/L,1.37,,conductivity,salt\r\n"               /* 20 */
                              ",,liquid,,kind,cleaner\r\n"                                /* 21 */
                              ",,water,,solvent,cleaner\r\n"                              /* 22 */
                              ",oz/gal,2.4,10%,salt,cleaner\r\n"                          /* 23 */
                              ",EUR/L,1.85,,price,cleaner\r\n"                            /* 24 */
                              ",EUR/gal,0.43,,disposal,cleaner\r\n"                       /* 25 */
                              ",,liquid,,kind,proof\r\n"                                  /* 26 */
                              ",,isopropanol,,solvent,proof\r\n"                          /* 27 */
                              ",%,70,1,solvent share,proof\r\n"                           /* 28 */
                              ",,liquid,,kind,di\r\n"                                     /* 29 */
                              ",,water,,solvent,di\r\n"                                   /* 30 */
                              ",,wash,,kind,bath\r\n"                                     /* 31 */
                              ",L,28,,volume,bath\r\n"                                    /* 32 */
                              ",,cleaner,,liquid,bath\r\n"                                /* 33 */
                              ",degF,140,1.8,temperature,bath\r\n"                        /* 34 */
                              ",L/h,3.6,,flow,bath\r\n"                                   /* 35 */
                              ",,di,,feed,bath\r\n"                                       /* 36 */
                              ",,drain,,overflow to,bath\r\n"                             /* 37 */
                              ",,proof,,top up from,bath\r\n"                             /* 38 */
                              ",1,40,,dump every,bath\r\n"                                /* 39 */
                              ",L/h,0.9,30%,evaporation,bath\r\n"                         /* 40 */
                              ",L/h,12,,clearing oil,bath\r\n"                            /* 41 */
                              ",%,97.5,,exchange,bath\r\n"                                /* 42 */
                              ",%,99.4,0.2,removal oil,bath\r\n"                          /* 43 */
                              ",%,5,,removal salt,bath\r\n"                               /* 44 */
                              ",mL/m2,85,15%,drag-out,bath\r\n"                           /* 45 */
                              ",,rinse,,kind,first\r\n"                                   /* 46 */
                              ",L,20,,volume,first\r\n"                                   /* 47 */
                              ",,di,,liquid,first\r\n"                                    /* 48 */
                              ",m2,0.12,,open area,first\r\n"                             /* 49 */
                              ",m/s,0.3,,air speed,first\r\n"                             /* 50 */
                              ",%,35,,covered,first\r\n"                                  /* 51 */
                              ",1,60,,dump every,first\r\n"                               /* 52 */
                              ",,last,,refill from,first\r\n"                             /* 53 */
                              ",um,21,,film,first\r\n"                                    /* 54 */
                              ",degC,40,10%,temperature,first\r\n"                        /* 55 */
                              ",,rinse,,kind,again\r\n"                                   /* 56 */
                              ",,first,,shares tank with,again\r\n"                       /* 57 */
                              ",%,25,,removal,again\r\n"                                  /* 58 */
                              ",cm/s,5,,withdrawal speed,again\r\n"                       /* 59 */
                              ",s,10,,drain time,again\r\n"                               /* 60 */
                              ",,plate,,film law,again\r\n"                               /* 61 */
                              ",,rinse,,kind,last\r\n"                                    /* 62 */
                              ",gal,6,,volume,last\r\n"                                   /* 63 */
                              ",,di,,liquid,last\r\n"                                     /* 64 */
                              ",gal/h,9,,flow,last\r\n"                                   /* 65 */
                              ",,first,,overflow to,last\r\n"                             /* 66 */
                              ",,cup shaped very poorly drained,,drag-out class,last\r\n" /* 67 */
                              ",,spray,,kind,fan\r\n"                                     /* 68 */
                              ",,di,,liquid,fan\r\n"                                      /* 69 */
                              ",L,4.1,,use,fan\r\n"                                       /* 70 */
                              ",%,62,,mixing,fan\r\n"                                     /* 71 */
                              ",,last,,runoff to,fan\r\n"                                 /* 72 */
                              ",m/min,2.4,,withdrawal speed,fan\r\n"                      /* 73 */
                              ",,kushner,,film law,fan\r\n"                               /* 74 */
                              ",,dry,,kind,oven\r\n"                                      /* 75 */
                              ",K,343,,temperature,oven\r\n"                              /* 76 */
                              ",m3,1.2,,volume,oven\r\n"                                  /* 77 */
                              ",m/s,1.5,,air speed,oven\r\n"                              /* 78 */
                              ",%,12.5,,humidity,oven\r\n"                                /* 79 */
                              ",1,0.4,,blow-off,oven\r\n"                                 /* 80 */
                              ",m3/h,33,,fresh air,oven\r\n"                              /* 81 */
                              ",,target,,kind,limit\r\n"                                  /* 82 */
                              ",ug/cm2,1,,residue,limit\r\n"                              /* 83 */
                              ",mg/m2,2.5,,residue oil,limit\r\n"                         /* 84 */
                              ",%,95,,confidence,limit\r\n"                               /* 85 */
                              ",,schedule,,kind,year\r\n"                                 /* 86 */
                              ",1,30,,loads per shift,year\r\n"                           /* 87 */
                              ",1,2,,shifts per day,year\r\n"                             /* 88 */
                              ",1,250,,days per year,year\r\n"                            /* 89 */
                              ",,solute,,kind,soda\r\n"                                   /* 90 */
                              ",,Na2CO3,,electrolyte,soda\r\n"                            /* 91 */
                              ",,linear,,compensation,cleaner\r\n"                        /* 92 */
                              ",%/K,1.93,5%,temperature coefficient,cleaner\r\n"          /* 93 */
                              ",,natural water,,compensation,di\r\n"                      /* 94 */
                              ",,calibration,,kind,refractometer\r\n"                     /* 95 */
                              ",,total,,solute,refractometer\r\n"                         /* 96 */
                              ",nD,1.3391,0.0002,reading 20,refractometer\r\n"            /* 97 */
                              ",g/L,41.7,2%,concentration 20,refractometer\r\n"           /* 98 */
                              ",nD,1.3330,,reading 1,refractometer\r\n"                   /* 99 */
                              ",g/L,0,,concentration 1,refractometer\r\n"                 /* 100 */
                              ",,calibration,,kind,haze\r\n"                              /* 101 */
                              ",,oil,,solute,haze\r\n"                                    /* 102 */
                              ",,-2.5,,reading 1,haze\r\n"                                /* 103 */
                              ",mg/L,385,,concentration 1,haze\r\n"                       /* 104 */
                              ",,31.25,,reading 2,haze\r\n"                               /* 105 */
                              ",mg/L,140,,concentration 2,haze\r\n"                       /* 106 */
                              ",,88,,reading 3,haze\r\n"                                  /* 107 */
                              ",mg/L,12.5,,concentration 3,haze\r\n"                      /* 108 */
                              ",1,5,,days per week,year\r\n"                              /* 109 */
                              ",h,3.75,,shift length,year\r\n"                            /* 110 */
                              ",,week end,,dump at,last\r\n"                              /* 111 */
                              ",%,82.5,,reclaim,last\r\n"                                 /* 112 */
                              ",,waste,,blow-off to,oven\r\n"                             /* 113 */
                              ",,room,,kind,hall\r\n"                                     /* 114 */
                              ",degC,24,,temperature,hall\r\n"                            /* 115 */
                              ",%,37.5,4,humidity,hall\r\n"                               /* 116 */
                              ",m,1.4,,perimeter,first\r\n"                               /* 117 */
                              ",cm,20,,freeboard,first\r\n"                               /* 118 */
                              ",,on,,idle heating,year\r\n"                               /* 119 */
                              ",%,90,,covered idle,year\r\n"                              /* 120 */
                              "\"two\r\nlines\",,off,,idle flow,year\r\n" /* 121, 122 */
                              ",,caustic,,hazard,soda\r\n"                /* 123 */
                              ",g/L,2.1,,most oil,bath\r\n"               /* 124 */
                              ",oz/gal,1.9,,least salt,bath\r\n"          /* 125 */
                              ",g/L,31,,most dissolved,bath\r\n"          /* 126 */
                              ",g/L,44,,solubility salt,cleaner\r\n"      /* 127 */
                              ",mg/L,7.5,,concentration salt,limit\r\n"   /* 128 */
                              ",mg/L,9,,non-volatile residue,limit\r\n"   /* 129 */
                              ",1,1000,,rinse ratio,limit\r\n"            /* 130 */
                              ",uS/cm,12.5,,conductivity,limit\r\n"       /* 131 */
                              ",,last,,measured in,limit\r\n"             /* 132 */
                              ",,jet,,air,oven\r\n"                       /* 133 */
                              ",mm,3,,nozzle diameter,oven\r\n"           /* 134 */
                              ",cm,2.4,,nozzle distance,oven\r\n"         /* 135 */
                              ",mm,17,,nozzle pitch,oven\r\n"             /* 136 */
                              ",%,97,,share of loads,limit\r\n"           /* 137 */
                              ",mPa.s,1.9,,viscosity,cleaner\r\n"         /* 138 */
                              ",mN/m,31.7,,surface tension,cleaner\r\n"   /* 139 */
                              ",W,240,,ultrasonic power,first\r\n"        /* 140 */
                              ",W/K,3.85,,wall loss,first\r\n"            /* 141 */
                              ",L,2.65,,water bath,first\r\n"             /* 142 */
                              ",W/K,6.15,,bath coupling,first\r\n"        /* 143 */
                              ",g,2.385,,capacity,bath\r\n"               /* 144 */
                              ",,77,,change every,bath\r\n"               /* 145 */
                              ",EUR,61.5,,change price,bath\r\n"          /* 146 */
                              ",%,35.5,,hold-up exchange,basket\r\n"      /* 147 */
                              ",%,83,,hold-up exchange,bath\r\n"          /* 148 */
                              ",1,0.47,,hold-up exchange,last\r\n"        /* 149 */
                              ",%,12,,hold-up exchange,fan\r\n"           /* 150 */
                              ",%,3,,hold-up exchange,oven\r\n"           /* 151 */
                              ",,load,,kind,hook\r\n"                     /* 152 */
                              ",1,2,,parts,hook\r\n"                      /* 153 */
                              ",cm2,238,,area,hook\r\n"                   /* 154 */
                              ",cm,11.5,,height,hook\r\n"                 /* 155 */
                              ",mg,3.85,12%,on parts oil,hook\r\n"        /* 156 */
                              ",mL/m2,147,7%,drag-out hook,last\r\n"      /* 157 */
                              ",,basket 2 hook,,sequence,year\r\n"        /* 158 */
                              ",g/g,2.89,,COD,oil\r\n"                    /* 159 */
                              ",,NaOH,,formula,soda\r\n"                  /* 160 */
                              ",1,12.3,,pH,soda\r\n"                      /* 161 */
                              ",kg/kg,0.013,,COD,cleaner\r\n"             /* 162 */
                              ",,C3H8O,,formula,proof\r\n"                /* 163 */
                              ",%,83.5,,heating efficiency,bath\r\n"      /* 164 */
                              ",g/kWh,385,,CO2 factor,bath\r\n"           /* 165 */
                              ",%,61,,heating efficiency,oven\r\n"        /* 166 */
                              ",kg/MJ,0.056,,CO2 factor,oven\r\n"         /* 167 */
                              ",,Tue-Thu Sat Sun,,weekdays,year\r\n"      /* 168 */
                              ",%,62.5,,covered idle,first\r\n"           /* 169 */
                              ",degF,95,2,idle temperature,first\r\n"     /* 170 */
                              ",g/MJ,90,,ultrasonic CO2 factor,first";    /* 171 */

#define GALLON 3.785411784e-3 /* m3, exact: 231 in3, NIST SP 811 (2008) B.8 */

START_TEST(load_and_solutes_in_si)
{
    const dregs_load *load;

    parse(awkward);
    load = dregs_line_load(line);
    ck_assert_str_eq(load->name, "basket");
    check_value(&load->parts, 24.0, 0.0, 4, "parts");
    /* 9.46 x 6.4516 cm2; 5 % of it */
    check_value(&load->area, 61.032136e-4, 3.0516068e-4, 5, "area");
    check_value(&load->extra_area, 0.09125, 0.01825, 6, "extra area");
    check_value(&load->hold_up, 4.7e-8, 1.2e-8, 8, "hold-up");
    check_value(&load->hold_up_exchange, 0.355, 0.0, 147, "hold-up exchange");
    check_value(&load->edge, 0.02385, 0.0, 9, "edge");
    check_value(&load->height, 0.075, 0.0, 10, "height");
    check_value(&load->interval, 435.0, 0.0, 11, "interval");
    check_value(&load->mass, 0.0134, 0.0, 12, "mass");
    check_value(&load->heat_capacity, 897.0, 0.0, 13, "heat capacity");
    check_value(&load->recess_area, 1.3e-6, 0.0, 14, "recess area");
    check_value(&load->recess_depth, 4.1e-3, 0.0, 15, "recess depth");
    ck_assert_uint_eq(dregs_line_solutes(line), 3);
    ck_assert_str_eq(dregs_line_solute(line, 0)->name, "oil");
    check_value(&dregs_line_solute(line, 0)->on_parts, 2.4e-6, 0.96e-6, 18, "on parts");
    ck_assert(isnan(dregs_line_solute(line, 0)->conductivity.si));
    /* 1 uS/cm = 1e-4 S/m, 1 mg/L = 1e-3 kg/m3 */
    check_value(&dregs_line_solute(line, 1)->conductivity, 0.137, 0.0, 20, "conductivity");
    ck_assert(dregs_line_solute(line, 1)->on_parts.si == 0.0);
    check_value(&dregs_line_solute(line, 0)->demand.stated, 2.89, 0.0, 159, "COD");
    ck_assert_uint_eq(dregs_line_solute(line, 0)->demand.formula_row, 0);
    ck_assert_uint_gt(dregs_line_solute(line, 2)->demand.formula_row, 0);
    ck_assert(dregs_line_solute(line, 2)->demand.of_formula == 0.0); /* NaOH burns no more */
    check_value(&dregs_line_solute(line, 2)->ph, 12.3, 0.0, 161, "pH");
}
END_TEST

START_TEST(liquids_in_si)
{
    const dregs_fluid *fluid;

    parse(awkward);
    ck_assert_uint_eq(dregs_line_fluids(line), 3);
    fluid = dregs_line_fluid(line, 0);
    ck_assert_str_eq(fluid->name, "cleaner");
    ck_assert_str_eq(fluid->solvent, "water");
    ck_assert(fluid->solvent_share.si == 1.0 && fluid->solvent_share.row == 0);
    ck_assert(fluid->content[0].si == 0.0 && fluid->content[0].row == 0);
    /* the avoirdupois ounce is 0.028349523125 kg, exact */
    check_value(&fluid->content[1], 2.4 * 0.028349523125 / GALLON, 0.24 * 0.028349523125 / GALLON,
                23, "salt");
    check_value(&fluid->price, 1850.0, 0.0, 24, "price");
    check_value(&fluid->disposal, 0.43 / GALLON, 0.0, 25, "disposal");
    fluid = dregs_line_fluid(line, 1);
    ck_assert_str_eq(fluid->solvent, "isopropanol");
    check_value(&fluid->solvent_share, 0.7, 0.01, 28, "solvent share");
    ck_assert(isnan(fluid->price.si) && isnan(fluid->disposal.si));
}
END_TEST

static char *changed(const char *old, const char *new_);

static unsigned long at_line(unsigned row)
{
    return row ? dregs_line_row(line, row)->line : 0;
}

/* How a meter sees the solutes and liquids. */
START_TEST(metering_in_si)
{
    const dregs_fluid *fluid;
    unsigned i;

    parse(awkward);
    ck_assert_ptr_null(dregs_line_solute(line, 1)->electrolyte);
    ck_assert_uint_eq(dregs_line_solute(line, 1)->electrolyte_row, 0);
    ck_assert_ptr_nonnull(dregs_line_solute(line, 2)->electrolyte);
    ck_assert_str_eq(dregs_line_solute(line, 2)->electrolyte->name, "Na2CO3");
    ck_assert_uint_eq(at_line(dregs_line_solute(line, 2)->electrolyte_row), 91);
    ck_assert_int_eq(dregs_line_solute(line, 2)->hazard, DREGS_HAZARD_CAUSTIC);
    ck_assert_int_eq(dregs_line_solute(line, 1)->hazard, DREGS_HAZARD_UNSTATED);
    ck_assert(isnan(dregs_line_solute(line, 2)->conductivity.si));
    fluid = dregs_line_fluid(line, 0);
    ck_assert(fluid->compensation == DREGS_COMPENSATION_LINEAR);
    ck_assert_uint_eq(at_line(fluid->compensation_row), 92);
    check_value(&fluid->coefficient, 0.0193, 0.000965, 93, "temperature coefficient");
    check_value(&fluid->viscosity, 1.9e-3, 0.0, 138, "viscosity");
    check_value(&fluid->surface_tension, 31.7e-3, 0.0, 139, "surface tension");
    fluid = dregs_line_fluid(line, 1); /* says nothing of it */
    ck_assert(fluid->compensation == DREGS_COMPENSATION_NONE && !fluid->compensation_row);
    ck_assert(isnan(fluid->coefficient.si) && !fluid->coefficient.row);
    fluid = dregs_line_fluid(line, 2);
    ck_assert(fluid->compensation == DREGS_COMPENSATION_NATURAL);
    ck_assert(isnan(fluid->coefficient.si));
    for (i = 0; i < DREGS_COMPENSATIONS; i++) {
        char row[96];
        dregs_line_free(line);
        line = NULL;
        snprintf(row, sizeof row, "c,kind,liquid,,,\nc,solvent,water,,,\nc,compensation,%s,,,\n",
                 dregs_compensation_name((dregs_compensation)i));
        parse(changed(NULL, row));
        ck_assert(dregs_line_fluid(line, 1)->compensation == (dregs_compensation)i);
        ck_assert_uint_eq(at_line(dregs_line_fluid(line, 1)->compensation_row), 37);
    }
}
END_TEST

START_TEST(calibrations_in_si)
{
    const dregs_scale *scale;
    double value;

    parse(awkward);
    ck_assert_uint_eq(dregs_line_scales(line), 2);
    ck_assert_ptr_null(dregs_line_scale(line, 2));
    scale = dregs_line_scale(line, 0);
    ck_assert_str_eq(scale->name, "refractometer");
    ck_assert_str_eq(scale->unit, "nD");
    ck_assert_int_eq(scale->solute, -1);
    ck_assert_uint_eq(at_line(scale->row), 95);
    ck_assert_uint_eq(at_line(scale->of_row), 96);
    check_value(&scale->reading[19], 1.3391, 0.0002, 97, "reading 20");
    check_value(&scale->concentration[19], 41.7, 0.834, 98, "concentration 20");
    check_value(&scale->reading[0], 1.3330, 0.0, 99, "reading 1");
    check_value(&scale->concentration[0], 0.0, 0.0, 100, "concentration 1");
    ck_assert_uint_eq(scale->reading[1].row, 0);
    ck_assert_uint_eq(scale->curve.count, 2);
    /* a third of the way: 1.3330 + 0.0061 / 3 stands for 41.7 / 3 g/L */
    ck_assert_int_eq(
        dregs_calibration_concentration(&scale->curve, 1.3330 + 0.0061 / 3, &value, NULL),
        DREGS_OK);
    ck_assert_near(value, 13.9, 1e-10, "a third of the way");
    scale = dregs_line_scale(line, 1); /* its reading falls with the oil, is below 0, has no unit */
    ck_assert_str_eq(scale->name, "haze");
    ck_assert_str_eq(scale->unit, "");
    ck_assert_int_eq(scale->solute, 0);
    check_value(&scale->reading[0], -2.5, 0.0, 103, "reading 1");
    check_value(&scale->concentration[0], 0.385, 0.0, 104, "concentration 1");
    ck_assert_uint_eq(scale->curve.count, 3);
    /* from 88 at 12.5 to 31.25 at 140 mg/L: at 50.75 mg/L 88 - 0.3 x 56.75 */
    ck_assert_int_eq(dregs_calibration_reading(&scale->curve, 0.05075, &value, NULL), DREGS_OK);
    ck_assert_near(value, 70.975, 1e-12, "three tenths of the way");
}
END_TEST

/* An item of twenty points, the most there may be. */
START_TEST(a_calibration_of_twenty_points)
{
    static char text[8000];
    size_t used = (size_t)snprintf(text, sizeof text, "%s",
                                   changed(NULL, "m,kind,calibration,,,\n"
                                                 "m,solute,salt,,,\n"));
    const dregs_calibration *curve;
    int i;

    for (i = 20; i >= 1; i--)
        used += (size_t)snprintf(text + used, sizeof text - used,
                                 "m,reading %d,%d,NTU,,\nm,concentration %d,%d,mg/L,,\n", i, i * i,
                                 i, 7 * i);
    parse(text);
    curve = &dregs_line_scale(line, 0)->curve;
    ck_assert_uint_eq(curve->count, 20);
    for (i = 0; i < 20; i++) {
        ck_assert_near(curve->point[i].reading, (i + 1) * (i + 1), 1e-15, "reading %d", i + 1);
        ck_assert_near(curve->point[i].concentration, 7e-3 * (i + 1), 1e-14, "point %d", i + 1);
    }
}
END_TEST

START_TEST(tanks_in_si)
{
    const dregs_stage *s;

    parse(awkward);
    ck_assert_uint_eq(dregs_line_stages(line), 6);
    ck_assert_uint_eq(dregs_line_tanks(line), 3);
    s = dregs_line_stage(line, 0);
    ck_assert_str_eq(s->name, "bath");
    ck_assert(s->kind == DREGS_WASH && s->tank == 0 && s->shares.row == 0);
    check_value(&s->volume, 0.028, 0.0, 32, "volume");
    ck_assert(s->liquid.kind == DREGS_LINK_LIQUID && s->liquid.index == 0);
    check_value(&s->temperature, 333.15, 1.0, 34, "temperature");
    check_value(&s->flow, 1e-6, 0.0, 35, "flow");
    ck_assert(s->feed.kind == DREGS_LINK_LIQUID && s->feed.index == 2);
    ck_assert(s->overflow_to.kind == DREGS_LINK_DRAIN && s->overflow_to.row > 0);
    ck_assert(s->top_up_from.kind == DREGS_LINK_LIQUID && s->top_up_from.index == 1);
    check_value(&s->dump_every, 40.0, 0.0, 39, "dump every");
    check_value(&s->evaporation, 2.5e-7, 0.75e-7, 40, "evaporation");
    check_value(&s->clearing[0], 12e-3 / 3600, 0.0, 41, "clearing oil");
    ck_assert(s->clearing[1].si == 0.0 && s->clearing[1].row == 0);
    check_value(&s->capacity, 2.385e-3, 0.0, 144, "capacity");
    check_value(&s->change_every, 77.0, 0.0, 145, "change every");
    check_value(&s->change_price, 61.5, 0.0, 146, "change price");
    check_value(&s->heating_efficiency, 0.835, 0.0, 164, "heating efficiency");
    check_value(&s->co2_factor, 0.385 / 3.6e6, 0.0, 165, "CO2 factor");
    check_value(&s->exchange, 0.975, 0.0, 42, "exchange");
    check_value(&s->hold_up_exchange, 0.83, 0.0, 148, "hold-up exchange");
    check_value(&s->removal[0], 0.994, 0.002, 43, "removal oil");
    check_value(&s->removal[1], 0.05, 0.0, 44, "removal salt");
    ck_assert(s->film_way == DREGS_FILM_DRAG_OUT);
    check_value(&s->drag_out, 8.5e-5, 1.275e-5, 45, "drag-out");
    ck_assert(isnan(s->film.si) && isnan(s->open_area.si));

    s = dregs_line_stage(line, 1);
    ck_assert(s->kind == DREGS_RINSE && s->tank == 1);
    check_value(&s->open_area, 0.12, 0.0, 49, "open area");
    check_value(&s->air_speed, 0.3, 0.0, 50, "air speed");
    check_value(&s->covered, 0.35, 0.0, 51, "covered");
    check_value(&s->covered_idle, 0.625, 0.0, 169, "covered idle");
    /* 95 degF = 35 degC, and 2 degF are 2 / 1.8 K */
    check_value(&s->idle_temperature, 308.15, 2 / 1.8, 170, "idle temperature");
    check_value(&s->ultrasonic_co2_factor, 9e-8, 0.0, 171, "ultrasonic CO2 factor");
    ck_assert(s->refill_from.kind == DREGS_LINK_STAGE && s->refill_from.index == 3);
    ck_assert(s->film_way == DREGS_FILM_STATED);
    check_value(&s->film, 2.1e-5, 0.0, 54, "film");
    /* a tenth of the 40 degC as written, not of 313.15 K */
    check_value(&s->temperature, 313.15, 4.0, 55, "temperature");
    ck_assert(s->exchange.si == 1.0 && s->exchange.row == 0);
    ck_assert(s->removal[0].si == 0.0 && s->removal[0].row == 0);
    /* by default the top-up is the feed and the feed is the fill */
    ck_assert(s->feed.kind == DREGS_LINK_LIQUID && s->feed.index == 2 && s->feed.row == 0);
    ck_assert(s->top_up_from.kind == DREGS_LINK_LIQUID && s->top_up_from.index == 2);
    ck_assert(s->overflow_to.kind == DREGS_LINK_DRAIN && s->overflow_to.row == 0);

    s = dregs_line_stage(line, 2);
    ck_assert(s->tank == 1 && s->shares.kind == DREGS_LINK_STAGE && s->shares.index == 1);
    check_value(&s->removal[0], 0.25, 0.0, 58, "removal of all");
    check_value(&s->removal[1], 0.25, 0.0, 58, "removal of all");
    ck_assert(s->film_way == DREGS_FILM_LAW);
    check_value(&s->withdrawal_speed, 0.05, 0.0, 59, "withdrawal speed");
    check_value(&s->drain_time, 10.0, 0.0, 60, "drain time");

    s = dregs_line_stage(line, 3);
    ck_assert(s->tank == 2);
    check_value(&s->volume, 6 * GALLON, 0.0, 63, "volume");
    check_value(&s->flow, 9 * GALLON / 3600, 0.0, 65, "flow");
    ck_assert(s->overflow_to.kind == DREGS_LINK_STAGE && s->overflow_to.index == 1);
    ck_assert(s->film_way == DREGS_FILM_CLASS);
    ck_assert_str_eq(s->drag_out_class->name, "cup shaped very poorly drained");
}
END_TEST

START_TEST(other_stages_and_limits_in_si)
{
    const dregs_stage *s;
    const dregs_target *target;
    const dregs_schedule *schedule;

    parse(awkward);
    s = dregs_line_stage(line, 4);
    ck_assert(s->kind == DREGS_SPRAY && s->tank == -1);
    check_value(&s->use, 4.1e-3, 0.0, 70, "use");
    check_value(&s->mixing, 0.62, 0.0, 71, "mixing");
    check_value(&s->hold_up_exchange, 0.12, 0.0, 150, "hold-up exchange of a spray");
    ck_assert(s->runoff_to.kind == DREGS_LINK_STAGE && s->runoff_to.index == 3);
    ck_assert(s->film_way == DREGS_FILM_KUSHNER);
    check_value(&s->withdrawal_speed, 0.04, 0.0, 73, "withdrawal speed");
    s = dregs_line_stage(line, 5);
    ck_assert(s->kind == DREGS_DRY && s->tank == -1 && s->film_way == DREGS_FILM_NONE);
    check_value(&s->temperature, 343.0, 0.0, 76, "temperature");
    check_value(&s->volume, 1.2, 0.0, 77, "volume");
    check_value(&s->air_speed, 1.5, 0.0, 78, "air speed");
    check_value(&s->humidity, 0.125, 0.0, 79, "humidity");
    ck_assert(s->air == DREGS_AIR_JET && s->air_row);
    check_value(&s->nozzle, 0.003, 0.0, 134, "nozzle diameter");
    check_value(&s->nozzle_distance, 0.024, 0.0, 135, "nozzle distance");
    check_value(&s->nozzle_pitch, 0.017, 0.0, 136, "nozzle pitch");
    check_value(&s->blow_off, 0.4, 0.0, 80, "blow-off");
    check_value(&s->hold_up_exchange, 0.03, 0.0, 151, "hold-up exchange of an oven");
    ck_assert(s->blow_off_to.kind == DREGS_LINK_WASTE && s->blow_off_to.row == 109);
    check_value(&s->fresh_air, 33.0 / 3600, 0.0, 81, "fresh air");
    target = dregs_line_target(line);
    ck_assert_str_eq(target->name, "limit");
    check_value(&target->residue, 1e-5, 0.0, 83, "residue");
    check_value(&target->of_solute[0], 2.5e-6, 0.0, 84, "residue oil");
    ck_assert(isnan(target->of_solute[1].si));
    check_value(&target->confidence, 0.95, 0.0, 85, "confidence");
    check_value(&target->share_of_loads, 0.97, 0.0, 137, "share of loads");
    ck_assert_ptr_null(target->level);
    check_value(&target->concentration[1], 7.5e-3, 0.0, 128, "concentration salt");
    check_value(&target->dissolved, 9e-3, 0.0, 129, "non-volatile residue");
    check_value(&target->ratio, 1000.0, 0.0, 130, "rinse ratio");
    check_value(&target->conductivity, 12.5e-4, 0.0, 131, "conductivity");
    ck_assert(target->measured_in.kind == DREGS_LINK_STAGE && target->measured_in.index == 3);
    s = dregs_line_stage(line, 0);
    check_value(&s->most[0], 2.1, 0.0, 124, "most oil");
    check_value(&s->most_dissolved, 31.0, 0.0, 126, "most dissolved");
    /* 1 oz (avoirdupois) = 28.349523125 g, NIST SP 811 (2008) B.8 */
    check_value(&s->least[1], 1.9 * 28.349523125e-3 / GALLON, 0.0, 125, "least salt");
    check_value(&dregs_line_fluid(line, 0)->solubility[1], 44.0, 0.0, 127, "solubility salt");
    schedule = dregs_line_schedule(line);
    ck_assert_str_eq(schedule->name, "year");
    check_value(&schedule->loads_per_shift, 30.0, 0.0, 87, "loads per shift");
    check_value(&schedule->shifts_per_day, 2.0, 0.0, 88, "shifts per day");
    check_value(&schedule->days_per_year, 250.0, 0.0, 89, "days per year");
    check_value(&schedule->days_per_week, 5.0, 0.0, 109, "days per week");
    check_value(&schedule->shift_length, 13500.0, 0.0, 110, "shift length");
    ck_assert_uint_eq(schedule->weekdays, 2 + 4 + 8 + 32 + 64);
    ck_assert_uint_eq(dregs_line_row(line, schedule->weekdays_row)->line, 168);
    /* a week of 5 days of 2 shifts of 30 loads */
    s = dregs_line_stage(line, 3);
    ck_assert(s->dump_at == DREGS_DUMP_AT_WEEK);
    check_value(&s->dump_every, 300.0, 0.0, 111, "dump at");
    check_value(&s->reclaim, 0.825, 0.0, 112, "reclaim");
    ck_assert_int_eq(schedule->idle_flow, 0);
}
END_TEST

/* What dregs-line(5) says of the kinds, of each stage of `awkward` in turn. */
START_TEST(stages_are_what_their_kinds_are)
{
    enum { TANK = DREGS_STAGE_TANK | DREGS_STAGE_WET };
    static const struct {
        const char *kind;
        unsigned traits;
    } are[] = {{"wash", TANK | DREGS_STAGE_CLEANS},
               {"rinse", TANK | DREGS_STAGE_RINSES},
               {"rinse", TANK | DREGS_STAGE_RINSES},
               {"rinse", TANK | DREGS_STAGE_RINSES},
               {"spray", DREGS_STAGE_WET | DREGS_STAGE_RINSES | DREGS_STAGE_SPRAYS},
               {"dry", DREGS_STAGE_DRIES}};
    unsigned i, trait;

    parse(awkward);
    for (i = 0; i < 6; i++) {
        const dregs_stage *stage = dregs_line_stage(line, i);
        ck_assert_str_eq(dregs_stage_kind_name(stage->kind), are[i].kind);
        ck_assert_int_eq(dregs_stage_is(stage, are[i].traits), 1);
        for (trait = DREGS_STAGE_TANK; trait <= DREGS_STAGE_DRIES; trait *= 2)
            ck_assert_int_eq(dregs_stage_is(stage, trait), (are[i].traits & trait) != 0);
        ck_assert_int_eq(dregs_stage_is(stage, DREGS_STAGE_TANK | DREGS_STAGE_DRIES), 0);
    }
    ck_assert_ptr_null(dregs_stage_kind_name(DREGS_STAGE_KINDS));
    ck_assert_ptr_null(dregs_stage_kind_name((dregs_stage_kind)-1));
}
END_TEST

START_TEST(a_working_has_its_numbers_and_their_source)
{
    /* 60 % of 10 mg; 1 - 0.4 x 0.03 of 5 mg */
    const dregs_stage_masses masses = {10e-6, 0, 6e-6, 5e-6, 4.94e-6};
    dregs_stage_step steps[DREGS_STAGE_STEPS];

    parse(awkward);
    ck_assert_uint_eq(dregs_stage_working(line, 5, 0, &masses, steps), 2);
    ck_assert_str_eq(steps[0].text, "film = 10 mg (1 - blow-off 0.4) = 6 mg");
    ck_assert_uint_eq(dregs_line_row(line, steps[0].row)->line, 80);
    ck_assert_str_eq(steps[0].after, "");
    ck_assert_str_eq(steps[1].text,
                     "trapped = 5 mg (1 - blow-off x hold-up exchange 0.03) = 4.94 mg");
    ck_assert_uint_eq(dregs_line_row(line, steps[1].row)->line, 151);
    ck_assert_uint_eq(dregs_stage_working(line, 0, 0, &masses, steps), 4);
    ck_assert_str_eq(steps[3].text, /* 24 x 0.047 mL */
                     "trapped = (1 - hold-up exchange) 5 mg + 1.128 mL c = 4.94 mg with 0.83");
    ck_assert_uint_eq(dregs_line_row(line, steps[3].row)->line, 148);
    ck_assert_uint_eq(dregs_stage_working(line, 4, 0, &masses, steps), 3);
    ck_assert_ptr_null(steps[1].otherwise);
    ck_assert_uint_eq(dregs_stage_working(line, 6, 0, &masses, steps), 0);
    ck_assert_uint_eq(dregs_stage_working(line, 5, dregs_line_solutes(line), &masses, steps), 0);
}
END_TEST

START_TEST(rows_are_kept_as_written)
{
    const dregs_row *row;

    parse(awkward);
    ck_assert_str_eq(dregs_line_name(line), "own.csv");
    ck_assert_ptr_eq(dregs_line_liquids(line), table);
    ck_assert_uint_eq(dregs_line_rows(line), 166); /* 171 lines: a header, 2 blank, 1 #, 1 broken */
    row = dregs_line_row(line, 3);
    ck_assert_uint_eq(row->line, 5);
    ck_assert_str_eq(row->item, "basket");
    ck_assert_str_eq(row->property, "area");
    ck_assert_str_eq(row->value, "9.46");
    ck_assert_str_eq(row->unit, "in2");
    ck_assert_str_eq(row->spread, "5%");
    ck_assert_str_eq(row->note, "a \"drawing\", rev. B");
    row = dregs_line_row(line, 117);
    ck_assert_uint_eq(row->line, 121);
    ck_assert_str_eq(row->property, "idle flow");
    ck_assert_ptr_nonnull(strstr(row->note, "two"));
    ck_assert_ptr_nonnull(strstr(row->note, "lines"));
}
END_TEST

START_TEST(accessors_out_of_range)
{
    parse(awkward);
    ck_assert_ptr_null(dregs_line_row(line, 0));
    ck_assert_ptr_null(dregs_line_row(line, 167));
    ck_assert_ptr_null(dregs_line_solute(line, 3));
    ck_assert_ptr_null(dregs_line_solute_name(line, 3));
    ck_assert_ptr_null(dregs_line_fluid_name(line, 3));
    ck_assert_ptr_null(dregs_line_scale_name(line, 2));
    ck_assert_ptr_null(dregs_line_stage_name(line, 6));
    ck_assert_str_eq(dregs_line_load_name(line), "basket");
    ck_assert_str_eq(dregs_line_solute_name(line, 0), "oil");
    ck_assert_str_eq(dregs_line_fluid_name(line, 0), "cleaner");
    ck_assert_str_eq(dregs_line_scale_name(line, 0), "refractometer");
    ck_assert_str_eq(dregs_line_stage_name(line, 0), "bath");
    ck_assert_str_eq(dregs_line_target_name(line), "limit");
    ck_assert_str_eq(dregs_line_schedule_name(line), "year");
    ck_assert_str_eq(dregs_line_room_name(line), "hall");
    ck_assert_ptr_null(dregs_line_fluid(line, 3));
    ck_assert_ptr_null(dregs_line_stage(line, 6));
    ck_assert_ptr_null(dregs_line_stage(line, (unsigned)-1));
    ck_assert_ptr_null(dregs_line_carried(line, 6));
    ck_assert_ptr_null(dregs_line_tank(line, 3));
    ck_assert_ptr_null(dregs_line_wet_with(line, 6));
    ck_assert_ptr_null(dregs_line_wet_with(line, 5)); /* dry */
    ck_assert(isnan(dregs_line_temperature(line, 6)));
    ck_assert_ptr_null(dregs_line_assumed(line, 1000));
    ck_assert_ptr_null(dregs_line_unused(line, DREGS_ASKED_RESIDUE, 1000));
    ck_assert_int_eq(dregs_line_last_wet(line), 4);
    ck_assert_str_eq(dregs_line_wet_with(line, 2)->name, "di"); /* of the tank it visits */
    ck_assert_near(dregs_line_temperature(line, 2), 313.15, 1e-15, "of the tank it visits");
    ck_assert_near(dregs_line_temperature(line, 3), 293.15, 1e-15, "assumed");
    dregs_line_free(NULL);
}
END_TEST

static int has_note(const char *(*at)(const dregs_line *, unsigned), const char *words)
{
    unsigned i;

    for (i = 0; at(line, i); i++)
        if (strstr(at(line, i), words))
            return 1;
    return 0;
}

static int not_used(unsigned questions, const char *words)
{
    unsigned i;

    for (i = 0; dregs_line_unused(line, questions, i); i++)
        if (strstr(dregs_line_unused(line, questions, i), words))
            return 1;
    return 0;
}

START_TEST(assumed_and_unused_are_said)
{
    parse(awkward);
    ck_assert(has_note(dregs_line_assumed, "last: 20 degC, for the properties of its liquid"));
    ck_assert(has_note(dregs_line_assumed, "fan: 20 degC, for the properties of its liquid"));
    ck_assert(!has_note(dregs_line_assumed, "bath: 20 degC"));
    ck_assert(!has_note(dregs_line_assumed, "again: 20 degC"));
    ck_assert(has_note(dregs_line_assumed, "last: 24 gal per 1000 ft2, the upper end of the "
                                           "published 8 to 24"));
    ck_assert(!has_note(dregs_line_assumed, "still air"));
    ck_assert(!has_note(dregs_line_assumed, "the room's air"));
    ck_assert(!has_note(dregs_line_assumed, "first: its open surface"));
    ck_assert(has_note(dregs_line_assumed, "first: its freeboard holds nothing back: the air is "
                                           "not still"));
    /* counted by hand in the text above */
    ck_assert(not_used(DREGS_ASKED_RESIDUE, "18 spreads"));
    ck_assert(!not_used(DREGS_ASKED_RESIDUE, "oil: electrolyte"));
}
END_TEST

/* How many properties each kind has: counted in dregs-line(5), not in the table of the reader. */
static size_t properties_of_all_kinds(void)
{
    static const struct {
        const char *kind;
        size_t properties;
    } page[] = {
        {"load", 13},   {"solute", 7},    {"liquid", 12}, {"calibration", 3},
        {"wash", 45},   {"rinse", 45},    {"spray", 13},  {"dry", 14},
        {"target", 10}, {"schedule", 10}, {"room", 3},
    };
    dregs_line_property property;
    size_t kind, i, all = 0;

    for (kind = 0; kind < sizeof page / sizeof page[0]; kind++) {
        size_t count = 0;
        for (i = 0; dregs_line_grammar(i, &property); i++)
            count += strcmp(property.kind, page[kind].kind) == 0;
        ck_assert_msg(count == page[kind].properties, "%s has %zu properties, not %zu",
                      page[kind].kind, count, page[kind].properties);
        all += count;
    }
    return all;
}

/* The kind and property of every row of `awkward` stand in the grammar, and the other way round. */
START_TEST(the_grammar_lists_every_property_once)
{
    dregs_line_property property, other;
    size_t i, k, count = 0;
    unsigned row, r;

    parse(awkward);
    for (i = 0; dregs_line_grammar(i, &property); i++) {
        /* which exclude another one of their kind */
        int found =
            strcmp(property.property, "level") == 0 || strcmp(property.property, "dew point") == 0;
        int tank = strcmp(property.kind, "wash") == 0 || strcmp(property.kind, "rinse") == 0;
        const char *solute = strstr(property.property, "<solute>");
        const char *numbered = strstr(property.property, "<number>");
        const char *of_load = strstr(property.property, "<load>");
        size_t head = solute     ? (size_t)(solute - property.property)
                      : numbered ? (size_t)(numbered - property.property)
                      : of_load  ? (size_t)(of_load - property.property)
                                 : strlen(property.property);
        count++;
        for (k = 0; k < i; k++) {
            dregs_line_grammar(k, &other);
            ck_assert_msg(strcmp(property.kind, other.kind) != 0 ||
                              strcmp(property.property, other.property) != 0,
                          "%s of %s twice", property.property, property.kind);
        }
        for (row = 1; row <= dregs_line_rows(line) && !found; row++) {
            const dregs_row *cells = dregs_line_row(line, row);
            const char *kind = "";
            for (r = 1; r <= row; r++)
                if (strcmp(dregs_line_row(line, r)->item, cells->item) == 0 &&
                    strcmp(dregs_line_row(line, r)->property, "kind") == 0)
                    kind = dregs_line_row(line, r)->value;
            if (strcmp(kind, property.kind) != 0 &&
                !(tank && (strcmp(kind, "wash") == 0 || strcmp(kind, "rinse") == 0)) &&
                !(strcmp(property.kind, "spray") == 0 && head >= 4 &&
                  (strncmp(property.property, "film", 4) == 0 ||
                   strncmp(property.property, "drag", 4) == 0 ||
                   strncmp(property.property, "drain time", 10) == 0 ||
                   strncmp(property.property, "temperature", 11) == 0)))
                continue;
            found = solute ? strncmp(cells->property, property.property, head) == 0 &&
                                 (strcmp(cells->property + head, "oil") == 0 ||
                                  strcmp(cells->property + head, "salt") == 0)
                    : numbered ? strncmp(cells->property, property.property, head) == 0
                    : of_load  ? strcmp(cells->property, "drag-out hook") == 0
                               : strcmp(cells->property, property.property) == 0;
        }
        ck_assert_msg(found, "%s of %s is in no test", property.property, property.kind);
    }
    ck_assert_uint_eq(count, properties_of_all_kinds());
    ck_assert_int_eq(dregs_line_grammar(count, &property), 0);
    ck_assert_int_eq(dregs_line_grammar((size_t)-1, &property), 0);
}
END_TEST

/* ---- a small line, changed row by row ---- */

#define HEAD "item,property,value,unit,spread,note\n" /* 1 */
#define LOAD                                                                                       \
    "tray,kind,load,,,\n"                                                                          \
    "tray,parts,10,1,,\n"                                                                          \
    "tray,area,100,cm2,,\n"                                                                        \
    "tray,interval,500,s,,\n" /* 2 to 5 */

static const char small[] = HEAD LOAD "oil,kind,solute,,,\n"         /* 6 */
                                      "oil,on parts,2.4,mg,40%,\n"   /* 7 */
                                      "salt,kind,solute,,,\n"        /* 8 */
                                      "mix,kind,liquid,,,\n"         /* 9 */
                                      "mix,solvent,water,,,\n"       /* 10 */
                                      "mix,salt,18,g/L,10%,\n"       /* 11 */
                                      "bath,kind,wash,,,\n"          /* 12 */
                                      "bath,volume,28,L,,\n"         /* 13 */
                                      "bath,liquid,mix,,,\n"         /* 14 */
                                      "bath,removal,99.4,%,,\n"      /* 15 */
                                      "bath,film,85,um,,\n"          /* 16 */
                                      "first,kind,rinse,,,\n"        /* 17 */
                                      "first,volume,20,L,,\n"        /* 18 */
                                      "first,liquid,mix,,,\n"        /* 19 */
                                      "first,drag-out,60,mL/m2,,\n"  /* 20 */
                                      "last,kind,rinse,,,\n"         /* 21 */
                                      "last,volume,20,L,,\n"         /* 22 */
                                      "last,liquid,mix,,,\n"         /* 23 */
                                      "last,flow,9,L/h,,\n"          /* 24 */
                                      "last,overflow to,first,,,\n"  /* 25 */
                                      "last,film,60,um,,\n"          /* 26 */
                                      "fan,kind,spray,,,\n"          /* 27 */
                                      "fan,liquid,mix,,,\n"          /* 28 */
                                      "fan,use,0.5,L,,\n"            /* 29 */
                                      "fan,film,40,um,,\n"           /* 30 */
                                      "oven,kind,dry,,,\n"           /* 31 */
                                      "oven,temperature,70,degC,,\n" /* 32 */
                                      "limit,kind,target,,,\n"       /* 33 */
                                      "limit,residue,1,ug/cm2,,\n";  /* 34 */

#define CUP   "cup,kind,load,,,\ncup,parts,4,1,,\ncup,area,50,cm2,,\n" /* 35 to 37 of `changed` */
#define ORDER "day,kind,schedule,,,\nday,sequence,"                    /* 38 and 39 */

/* `small` with its first `old` replaced, or with `new_` behind it when `old` is NULL. */
static char *changed(const char *old, const char *new_)
{
    static char text[20000];
    const char *at = old ? strstr(small, old) : small + sizeof small - 1;

    ck_assert_msg(at != NULL, "'%s' is not in the small line", old);
    snprintf(text, sizeof text, "%.*s%s%s", (int)(at - small), small, new_,
             at + (old ? strlen(old) : 0));
    return text;
}

/* Of what some questions use and others do not. */
START_TEST(each_question_uses_other_rows)
{
    static const struct {
        const char *note;
        unsigned used_by;
    } rows[] = {
        {"cleaner: price", DREGS_ASKED_SIZE | DREGS_ASKED_YEAR | DREGS_ASKED_ACTUAL},
        {"cleaner: disposal", DREGS_ASKED_SIZE | DREGS_ASKED_YEAR | DREGS_ASKED_ACTUAL},
        {"last: reclaim", DREGS_ASKED_YEAR | DREGS_ASKED_ACTUAL},
        /* loads of several kinds have no week */
        {"year: idle flow", DREGS_ASKED_YEAR | DREGS_ASKED_ACTUAL},
        {"year: idle heating", DREGS_ASKED_YEAR | DREGS_ASKED_ACTUAL},
        {"year: covered idle", DREGS_ASKED_YEAR | DREGS_ASKED_ACTUAL},
        {"first: covered idle", DREGS_ASKED_YEAR | DREGS_ASKED_ACTUAL},
        {"first: idle temperature", DREGS_ASKED_YEAR | DREGS_ASKED_ACTUAL},
        {"hall: temperature", DREGS_ASKED_ALL},
        {"first: freeboard", DREGS_ASKED_ALL},
        {"year: days per year", DREGS_ASKED_YEAR | DREGS_ASKED_ACTUAL},
        /* by `dump at` of last, at the end of a week */
        {"year: loads per shift", DREGS_ASKED_ALL},
        {"year: shifts per day", DREGS_ASKED_ALL},
        {"year: days per week", DREGS_ASKED_ALL},
        {"limit: residue", DREGS_ASKED_RESIDUE | DREGS_ASKED_SIZE | DREGS_ASKED_READINGS},
        {"limit: confidence", DREGS_ASKED_READINGS},
        {"limit: share of loads", DREGS_ASKED_RESIDUE},
        /* of those that readings rest on, their answer counts the others itself */
        {"18 spreads", DREGS_ASKED_READINGS},
        {"soda: electrolyte", DREGS_ASKED_READINGS},
        {"cleaner: compensation", DREGS_ASKED_READINGS},
        {"cleaner: temperature coefficient", DREGS_ASKED_READINGS},
        {"refractometer: calibration", DREGS_ASKED_READINGS},
        {"haze: calibration", DREGS_ASKED_READINGS},
        {"basket: recess area", 0},
        {"basket: recess depth", DREGS_ASKED_DRYING},
        {"basket: mass", DREGS_ASKED_DRYING | DREGS_ASKED_YEAR | DREGS_ASKED_ACTUAL},
        {"oven: volume", DREGS_ASKED_DRYING},
        {"oven: humidity", DREGS_ASKED_DRYING},
        {"bath: volume", DREGS_ASKED_ALL},
    };
    unsigned question;
    size_t i;

    parse(awkward);
    for (i = 0; i < sizeof rows / sizeof rows[0]; i++)
        for (question = 1; question <= DREGS_ASKED_ALL; question *= 2)
            ck_assert_msg(not_used(question, rows[i].note) == !(rows[i].used_by & question),
                          "%s, question %u", rows[i].note, question);
    dregs_line_free(line);
    line = NULL;
    parse(changed(NULL, "week,kind,schedule,,,\nweek,loads per shift,20,1,,\n"
                        "week,shifts per day,1,1,,\nweek,days per week,5,1,,\n"
                        "first,dump at,day end,,,\n"));
    ck_assert(!not_used(DREGS_ASKED_RESIDUE, "week: loads per shift"));
    ck_assert(!not_used(DREGS_ASKED_RESIDUE, "week: shifts per day"));
    ck_assert(not_used(DREGS_ASKED_DRYING | DREGS_ASKED_READINGS, "week: days per week"));
    ck_assert(!not_used(DREGS_ASKED_RESIDUE, "week: days per week"));
    ck_assert(!not_used(DREGS_ASKED_YEAR, "week: days per week"));
    dregs_line_free(line);
    line = NULL;
    /* weekdays are so many days per week */
    parse(changed(NULL, "week,kind,schedule,,,\nweek,loads per shift,20,1,,\n"
                        "week,shifts per day,1,1,,\nweek,weekdays,Mon-Wed Fri,,,\n"
                        "first,dump at,week end,,,\n"));
    ck_assert_double_eq(dregs_line_stage(line, 1)->dump_every.si, 80.0);
    ck_assert(!not_used(DREGS_ASKED_RESIDUE, "week: weekdays"));
    ck_assert(!not_used(DREGS_ASKED_ALL, "week: weekdays"));
    dregs_line_free(line);
    line = NULL;
    /* where no surface is open */
    parse(changed(NULL, "hall,kind,room,,,\nhall,humidity,60,%,,\nweek,kind,schedule,,,\n"
                        "week,idle heating,off,,,\n"));
    ck_assert(not_used(DREGS_ASKED_ALL & ~DREGS_ASKED_DRYING, "hall: humidity"));
    ck_assert(!not_used(DREGS_ASKED_DRYING, "hall: humidity"));
    ck_assert(not_used(DREGS_ASKED_ALL, "week: idle heating"));
}
END_TEST

START_TEST(defaults)
{
    const dregs_stage *s;

    parse(small);
    s = dregs_line_stage(line, 1);
    ck_assert(s->flow.si == 0.0 && s->evaporation.si == 0.0 && s->covered.si == 0.0);
    ck_assert(s->exchange.si == 1.0 && s->drain_time.si == 0.0);
    ck_assert(isnan(s->dump_every.si) && isnan(s->temperature.si));
    ck_assert(s->refill_from.kind == DREGS_LINK_NONE);
    s = dregs_line_stage(line, 3);
    ck_assert(s->mixing.si == 1.0 && s->runoff_to.kind == DREGS_LINK_DRAIN);
    s = dregs_line_stage(line, 4);
    ck_assert(s->blow_off_to.kind == DREGS_LINK_DRAIN && s->blow_off_to.row == 0);
    ck_assert(s->blow_off.si == 0.0 && isnan(s->humidity.si) && isnan(s->fresh_air.si));
    ck_assert(dregs_line_load(line)->hold_up.si == 0.0 && dregs_line_load(line)->edge.si == 0.0);
    ck_assert(isnan(dregs_line_load(line)->height.si));
    ck_assert_ptr_null(dregs_line_schedule(line)->name);
    ck_assert_int_eq(dregs_line_schedule(line)->idle_flow, -1);
    ck_assert_uint_eq(dregs_line_period(line), 1);
    ck_assert(has_note(dregs_line_assumed, "first, last: exchange 100 %"));
    ck_assert_ptr_null(dregs_line_assumed(line, 9));
    dregs_line_free(line);
    line = NULL;
    /* by 1 and l, by a blank, by a Cyrillic letter; what differs by a digit does not */
    parse(changed("limit,kind,target,,,\n", "oi1,kind,solute,,,\noil 2,kind,solute,,,\n"
                                            "o_IL,kind,solute,,,\nt\xD0\xB0p,kind,solute,,,\n"
                                            "TAP,kind,solute,,,\nlimit,kind,target,,,\n"));
    ck_assert(has_note(dregs_line_assumed, "'oil' (line 6) and 'oi1' (line 33) look alike: taken "
                                           "as two items"));
    ck_assert(has_note(dregs_line_assumed, "and 'o_IL' (line 35) look alike"));
    ck_assert(!has_note(dregs_line_assumed, "'oil 2'"));
    dregs_line_free(line);
    line = NULL;
    parse(changed("limit,kind,target,,,\nlimit,residue,1,ug/cm2,,\n", ""));
    ck_assert_ptr_null(dregs_line_target(line)->name);
}
END_TEST

/* Level A/5 is 0.2 mg per 0.1 m2: MIL-STD-1246C, which is 2e-6 kg/m2; R2E-1 is its later name. */
START_TEST(a_level_is_a_limit)
{
    static const char *const names[] = {"A/5", "R2E-1"};
    char row[64];

    snprintf(row, sizeof row, "limit,level,%s,,,\n", names[_i]);
    parse(changed("limit,residue,1,ug/cm2,,\n", row));
    ck_assert_near(dregs_line_target(line)->residue.si, 2e-6, 1e-12, "level");
    ck_assert_str_eq(dregs_line_target(line)->level, names[_i]);
}
END_TEST

START_TEST(line_ends_and_optional_columns)
{
    /* carriage returns alone, and only the columns that must be there */
    parse("item,property,value,unit\rtray,kind,load,\rtray,parts,10,\rtray,area,100,cm2\r"
          "tray,interval,500,s\roil,kind,solute,\rw,kind,liquid,\rw,solvent,water,\r"
          "r,kind,rinse,\rr,volume,1,L\rr,liquid,w,\rr,film,20,um");
    ck_assert_near(dregs_line_load(line)->area.si, 0.01, 1e-15, "area");
    ck_assert_str_eq(dregs_line_row(line, 2)->note, "");
    ck_assert_str_eq(dregs_line_row(line, 2)->spread, "");
    ck_assert_uint_eq(dregs_line_row(line, 2)->line, 3);
}
END_TEST

START_TEST(nothing_is_asked_of_faults)
{
    ck_assert_int_eq(dregs_line_parse("own.csv", small, strlen(small), table, &line, NULL),
                     DREGS_OK);
    dregs_line_free(line);
    line = NULL;
    ck_assert_int_eq(dregs_line_parse("own.csv", "item\n", 5, table, &line, NULL), DREGS_BAD_DATA);
    ck_assert_ptr_null(line);
}
END_TEST

/* ---- films ---- */

START_TEST(films_of_stated_thickness)
{
    parse(changed("tray,interval", "tray,extra area,250,cm2,,\ntray,hold-up,0.05,mL,,\n"
                                   "tray,interval"));
    /* 10 (0.01 m2 85 um + 0.05 mL) = 9 mL on the parts; 0.025 m2 of basket take 2.125 mL */
    ck_assert_near(dregs_line_carried(line, 0)->in, 0.0, 0.0, "in");
    ck_assert_near(dregs_line_carried(line, 0)->on_parts, 9e-6, 1e-14, "on parts");
    ck_assert_near(dregs_line_carried(line, 0)->out, 11.125e-6, 1e-14, "out");
    ck_assert_near(dregs_line_carried(line, 1)->in, 11.125e-6, 1e-14, "in");
    /* 60 mL/m2 are 60 um: 10 (0.6 + 0.05) = 6.5 and 1.5 mL */
    ck_assert_near(dregs_line_carried(line, 1)->thickness, 6e-5, 1e-14, "thickness");
    ck_assert_near(dregs_line_carried(line, 1)->out, 8e-6, 1e-14, "out");
    ck_assert_int_eq(dregs_line_carried(line, 1)->with_liquid, 0);
    /* the spray: 10 (0.4 + 0.05) + 1 mL; nothing leaves the oven */
    ck_assert_near(dregs_line_carried(line, 3)->out, 5.5e-6, 1e-14, "out");
    ck_assert_near(dregs_line_carried(line, 4)->in, 5.5e-6, 1e-14, "in");
    ck_assert(dregs_line_carried(line, 4)->out == 0.0);
}
END_TEST

START_TEST(films_by_class)
{
    parse(changed("bath,film,85,um,,", "bath,drag-out class,horizontal well drained,,,"));
    /* 0.8 gal per 1000 ft2 = 0.8 x 3.785411784e-3 / 92.90304 m */
    ck_assert_near(dregs_line_carried(line, 0)->thickness, 0.8 * GALLON / 92.90304, 1e-14, "class");
    ck_assert(!has_note(dregs_line_assumed, "gal per 1000 ft2"));
}
END_TEST

/* rho 800, mu 1e-3, sigma 0.072, U 0.05: Ca = 6.944444e-4, and the root N of the film equation
 * by bisection in 50-digit arithmetic (Python's decimal); h0 = N sqrt(mu U / (rho g)). */
#define FILM_NUMBER    0.26782719099029245
#define FILM_ENTRAINED 2.1381311330930611e-05

START_TEST(films_by_law)
{
    const dregs_carried *c;

    parse(changed("bath,film,85,um,,\n", "bath,withdrawal speed,5,cm/s,,\n") /* of water */);
    ck_assert(dregs_line_stage(line, 0)->film_way == DREGS_FILM_LAW);
    ck_assert_int_eq(dregs_line_carried(line, 0)->with_liquid, 1);
    dregs_line_free(line);
    line = NULL;
    {
        char *text = changed("bath,film,85,um,,\n", "bath,withdrawal speed,5,cm/s,,\n");
        memcpy(strstr(text, "water"), "plain", 5);
        parse(text);
    }
    c = dregs_line_carried(line, 0);
    ck_assert_near(c->capillary, 1e-3 * 0.05 / 0.072, 1e-14, "Ca");
    ck_assert_near(c->number, FILM_NUMBER, 1e-12, "N");
    ck_assert_near(c->entrained, FILM_ENTRAINED, 1e-12, "h0");
    ck_assert_near(c->thickness, FILM_ENTRAINED, 1e-12, "not drained");
    dregs_line_free(line);
    line = NULL;
    {
        char *text = changed("bath,film,85,um,,\n",
                             "tray,height,3,cm,,\ntray,edge,2,cm,,\n"
                             "bath,withdrawal speed,5,cm/s,,\nbath,drain time,10,s,,\n");
        memcpy(strstr(text, "water"), "plain", 5);
        parse(text);
    }
    c = dregs_line_carried(line, 0);
    /* z* = rho g h0^2 t / mu is far beyond 3 cm: (2/3) sqrt(mu L / (rho g t)) */
    ck_assert_near(c->reach, 800 * 9.80665 * FILM_ENTRAINED * FILM_ENTRAINED * 10 / 1e-3, 1e-12,
                   "z*");
    ck_assert_near(c->thickness, 2.0 / 3.0 * sqrt(1e-3 * 0.03 / (800 * 9.80665 * 10)), 1e-13,
                   "drained");
    /* 0.65 sigma edge / (rho g) = 0.65 x 0.072 x 0.02 / 7845.32 m3 */
    ck_assert_near(c->bead, 0.000936 / 7845.32, 1e-13, "bead");
    ck_assert_near(c->out, 10 * (0.01 * c->thickness + c->bead), 1e-13, "out");
    dregs_line_free(line);
    line = NULL;
    {
        char *text = changed("bath,film,85,um,,\n",
                             "bath,withdrawal speed,5,cm/s,,\nbath,film law,kushner,,,\n"
                             "bath,drain time,10,s,,\n");
        memcpy(strstr(text, "water"), "plain", 5);
        parse(text);
    }
    /* 0.2 sqrt(0.05 x 1e-3 / 800) = 0.2 x 2.5e-4 */
    ck_assert_near(dregs_line_carried(line, 0)->thickness, 5e-5, 1e-13, "Kushner");
    ck_assert(not_used(DREGS_ASKED_ALL, "bath: drain time"));
}
END_TEST

/* A bath with surfactant: its own surface tension and viscosity count, in bead and film. */
START_TEST(a_bath_with_surfactant)
{
    const dregs_carried *c;
    double h, ca;

    parse(changed("bath,film,85,um,,\n",
                  "bath,film,85,um,,\ntray,edge,2,cm,,\n"
                  "mix,surface tension,30,mN/m,,\nmix,viscosity,1.9,mPa.s,,\n"));
    c = dregs_line_carried(line, 0);
    ck_assert_double_eq(c->wetting.surface_tension, 0.030);
    ck_assert_double_eq(c->wetting.viscosity, 1.9e-3);
    ck_assert_near(c->bead, 0.65 * 0.030 * 0.02 / (c->wetting.density * 9.80665), 1e-13, "bead");
    ck_assert_near(c->wetting.density, 998.2, 1e-3, "density stays that of water");
    ck_assert(!not_used(DREGS_ASKED_ALL, "mix: surface tension"));
    dregs_line_free(line);
    line = NULL;
    parse(changed("bath,film,85,um,,\n",
                  "bath,withdrawal speed,5,cm/s,,\n"
                  "mix,surface tension,30,mN/m,,\nmix,viscosity,1.9,mPa.s,,\n"));
    c = dregs_line_carried(line, 0);
    ca = 1.9e-3 * 0.05 / 0.030;
    h = c->number * sqrt(1.9e-3 * 0.05 / (c->wetting.density * 9.80665));
    ck_assert_near(c->capillary, ca, 1e-13, "capillary number");
    ck_assert_near(c->thickness, h, 1e-12, "film");
    dregs_line_free(line);
    line = NULL;
    /* a measured film, and no edge: nothing to count it in */
    parse(changed(NULL, "mix,surface tension,30,mN/m,,\nmix,viscosity,1.9,mPa.s,,\n"));
    ck_assert(not_used(DREGS_ASKED_ALL, "mix: surface tension"));
    ck_assert(not_used(DREGS_ASKED_ALL, "mix: viscosity"));
}
END_TEST

/* ---- volumes ---- */

static void check_tank(unsigned index, const double expected[8])
{
    const dregs_tank *t = dregs_line_tank(line, index);
    const double got[8] = {t->flow,  t->film_gain,   t->runoff,   t->overflow_in,
                           t->drawn, t->evaporation, t->overflow, t->top_up};
    static const char *const names[8] = {"flow",  "film gain",   "runoff",   "overflow in",
                                         "drawn", "evaporation", "overflow", "top-up"};
    int i;

    for (i = 0; i < 8; i++)
        ck_assert_near(got[i], expected[i], 1e-12, "%s of tank %u", names[i], index);
}

/* A recovery rinse before and after the bath, whose top-up it gives; it draws on the first rinse,
 * which is fed by the last one, into which the spray runs. Films of 2, 8.5, 7, 6, 6.2 and 4 mL. */
START_TEST(volume_balance)
{
    static const double expected[4][8] = {
        /* recover: (0 - 2 + 8.5 - 7) mL / 500 s; gives 33e-9 to the bath */
        {0, -1e-9, 0, 0, 3.3e-8, 0, 0, 3.4e-8},
        /* bath: (2 - 8.5) mL / 500 s, and 0.072 L/h evaporate */
        {0, -1.3e-8, 0, 0, 0, 2e-8, 0, 3.3e-8},
        /* first: (7 - 6) mL / 500 s + what the last one gives - what recover draws */
        {0, 2e-9, 0, 2.004e-6, 3.4e-8, 0, 1.972e-6, 0},
        /* last: 3.6 L/h, (6 - 6.2) mL / 500 s, spray (500 + 6.2 - 4) mL / 500 s */
        {1e-6, -4e-10, 1.0044e-6, 0, 0, 0, 2.004e-6, 0}};
    unsigned i;

    parse(HEAD LOAD "oil,kind,solute,,,\nw,kind,liquid,,,\nw,solvent,water,,,\n"
                    "recover,kind,rinse,,,\nrecover,volume,20,L,,\nrecover,liquid,w,,,\n"
                    "recover,film,20,um,,\nrecover,top up from,first,,,\n"
                    "bath,kind,wash,,,\nbath,volume,28,L,,\nbath,liquid,w,,,\nbath,film,85,um,,\n"
                    "bath,evaporation,0.072,L/h,,\nbath,top up from,again,,,\n"
                    "again,kind,rinse,,,\nagain,shares tank with,recover,,,\nagain,film,70,um,,\n"
                    "first,kind,rinse,,,\nfirst,volume,20,L,,\nfirst,liquid,w,,,\n"
                    "first,film,60,um,,\n"
                    "last,kind,rinse,,,\nlast,volume,20,L,,\nlast,liquid,w,,,\nlast,film,62,um,,\n"
                    "last,flow,3.6,L/h,,\nlast,overflow to,first,,,\n"
                    "fan,kind,spray,,,\nfan,liquid,w,,,\nfan,use,0.5,L,,\nfan,film,40,um,,\n"
                    "fan,runoff to,last,,,\n");
    ck_assert_uint_eq(dregs_line_tanks(line), 4);
    for (i = 0; i < 4; i++)
        check_tank(i, expected[i]);
}
END_TEST

START_TEST(rows_may_leave_out_empty_cells_at_their_end)
{
    parse("item,property,value,unit,spread,note\n"
          "tray,kind,load\ntray,parts,10\ntray,area,100,cm2\ntray,interval,500,s,5%\n"
          "oil,kind,solute\nw,kind,liquid\nw,solvent,water\n"
          "r,kind,rinse\nr,volume,20,L\nr,liquid,w\nr,film,60,um\n");
    ck_assert_near(dregs_line_load(line)->area.si, 0.01, 1e-15, "area");
    ck_assert_near(dregs_line_load(line)->interval.sd, 25, 1e-15, "spread of the interval");
    ck_assert_str_eq(dregs_line_row(line, 1)->note, "");
}
END_TEST

START_TEST(sums_that_cancel_are_nothing)
{
    /* films of equal thickness in and out: neither overflow nor top-up by rounding */
    parse(changed("bath,film,85,um,,", "bath,film,60,um,,"));
    ck_assert(dregs_line_tank(line, 1)->top_up == 0.0);
    ck_assert_near(dregs_line_tank(line, 2)->overflow, 9e-3 / 3600, 1e-12, "the flow alone");
}
END_TEST

/* 0.05 m2, covered a fifth of the time; P 2000 Pa, M 64 g/mol, rho 800 kg/m3. */
START_TEST(evaporation_by_open_area)
{
    char *text = changed("bath,film", "bath,open area,0.05,m2,,\nbath,covered,20,%,,\n"
                                      "bath,temperature,300,K,,\nbath,film");

    memcpy(strstr(text, "water"), "plain", 5);
    parse(text);
    /* still: 1464 x 2000 x 64 = 1.87392e8 ug/(m2 h); x 0.04 m2 / 800 kg/m3 */
    ck_assert_near(dregs_line_tank(line, 0)->evaporation, 0.187392 * 0.04 / 800 / 3600, 1e-12,
                   "Mackay and van Wesenbeeck 2014");
    ck_assert(has_note(dregs_line_assumed, "bath: still air over its open surface"));
    ck_assert(has_note(dregs_line_assumed, "bath: no plain vapour in the room's air"));
    ck_assert(!has_note(dregs_line_assumed, "bath: 20 degC"));
    ck_assert(
        has_note(dregs_line_assumed, "bath: what evaporation cools its surface by is left out"));
    dregs_line_free(line);
    line = NULL;
    text = changed("bath,film", "bath,open area,0.05,m2,,\nbath,covered,20,%,,\n"
                                "bath,temperature,300,K,,\nbath,air speed,1,m/s,,\nbath,film");
    memcpy(strstr(text, "water"), "plain", 5);
    parse(text);
    /* moving: 64^(2/3) = 16, 2.1126e-6 x 16 x 2000 / 300 = 2.25344e-4 kg/(m2 s) */
    ck_assert_near(dregs_line_tank(line, 0)->evaporation, 2.25344e-4 * 0.04 / 800, 1e-12,
                   "pool equation");
    /* the same as EPA prints it: 0.284 U^0.78 M^(2/3) A P / (82.05 T) lb/min with P in mmHg and
     * A in ft2; five figures are printed */
    ck_assert_near(dregs_line_tank(line, 0)->evaporation,
                   0.284 * 0.45359237 / 60 * 16 * (0.04 / 0.09290304) * (2000 / 133.322) /
                       (82.05 * 300) / 800,
                   1e-4, "EPA's own units");
    dregs_line_free(line);
    line = NULL;
    text = changed("bath,film", "bath,open area,0.05,m2,,\nbath,air speed,3,m/s,,\nbath,film");
    memcpy(strstr(text, "water"), "plain", 5);
    parse(text);
    /* 3^0.78 = exp(0.78 x 1.09861228866811) = 2.35588904...; at the assumed 293.15 K */
    ck_assert_near(dregs_line_tank(line, 0)->evaporation,
                   2.1126e-6 * exp(0.78 * 1.09861228866811) * 16 * 2000 / 293.15 * 0.05 / 800,
                   1e-12, "3 m/s");
    ck_assert(has_note(dregs_line_assumed, "bath: 20 degC, for its evaporation"));
    ck_assert(!has_note(dregs_line_assumed, "still air"));
    dregs_line_free(line);
    line = NULL;
    parse(changed("bath,film", "bath,open area,0,m2,,\nbath,film"));
    ck_assert(dregs_line_tank(line, 0)->evaporation == 0.0);
}
END_TEST

#define OPEN                                                                                       \
    "bath,open area,0.5,m2,,\nbath,covered,20,%,,\nbath,temperature,60,degC,,\n"                   \
    "hall,kind,room,,,\nhall,temperature,16,degC,,\nhall,humidity,40,%,,\n"                        \
    "week,kind,schedule,,,\n"

/* Water of a bath of 0.5 m2: m3/s, at a temperature, uncovered. */
static double open_bath(double celsius, double length, double air_speed)
{
    dregs_open_surface tank = {.temperature = celsius + 273.15,
                               .room = 289.15,
                               .humidity = 0.4,
                               .pressure = 101325,
                               .length = length,
                               .air_speed = air_speed};
    dregs_evaporation e;
    double density;

    tank.conductivity = dregs_open_conductivity(table, "water", tank.temperature);
    ck_assert_int_eq(dregs_open_evaporation(table, "water", &tank, &e, NULL), DREGS_OK);
    ck_assert_int_eq(
        dregs_liquids_value(table, "water", DREGS_DENSITY, tank.temperature, &density, NULL),
        DREGS_OK);
    return e.flux * 0.5 / density;
}

/* A balance with 0.13 to 0.17 W/(m K) gives 8 to 17 % less for acetone of 20 degC (dregs-model(7)):
 * the note has the least conductivity, and the loss of the line stays that of the warm surface. */
START_TEST(a_surface_colder_than_its_liquid)
{
    const char *note = NULL;
    dregs_open_surface surface;
    dregs_evaporation e, warm;
    unsigned i;

    /* acetone's conductivity is in the table: the loss is 8 to 17 % below that of a surface as warm
       as the liquid, dregs-model(7), and no note is needed */
    parse(HEAD LOAD "oil,kind,solute,,,\nw,kind,liquid,,,\nw,solvent,acetone,,,\n"
                    "tub,kind,wash,,,\ntub,volume,10,L,,\ntub,liquid,w,,,\ntub,film,50,um,,\n"
                    "tub,open area,0.5,m2,,\ntub,temperature,20,degC,,\n");
    for (i = 0; dregs_line_assumed(line, i); i++)
        ck_assert_ptr_null(strstr(dregs_line_assumed(line, i), "K colder"));
    ck_assert_int_eq(dregs_line_open_surface(line, 0, 0, &surface, &e, NULL), DREGS_OK);
    ck_assert(e.cooled && surface.conductivity > 0);
    surface.conductivity = 0;
    ck_assert_int_eq(
        dregs_open_evaporation(dregs_line_liquids(line), "acetone", &surface, &warm, NULL),
        DREGS_OK);
    ck_assert_msg(warm.flux / e.flux > 1.08 && warm.flux / e.flux < 1.17, "%g", warm.flux / e.flux);

    dregs_line_free(line);
    line = NULL;
    parse(HEAD LOAD "oil,kind,solute,,,\nw,kind,liquid,,,\nw,solvent,1-bromopropane,,,\n"
                    "tub,kind,wash,,,\ntub,volume,10,L,,\ntub,liquid,w,,,\ntub,film,50,um,,\n"
                    "tub,open area,0.5,m2,,\ntub,temperature,20,degC,,\n");
    for (i = 0; dregs_line_assumed(line, i); i++)
        if (strstr(dregs_line_assumed(line, i), "K colder"))
            note = dregs_line_assumed(line, i);
    ck_assert_ptr_nonnull(note);
    ck_assert_msg(strstr(note, "what 1-bromopropane conducts is not in the table") != NULL, "%s",
                  note);
    i = (unsigned)strtoul(strstr(note, "and lose ") + 9, NULL, 10);
    ck_assert_msg(i >= 8 && i <= 17, "%s", note);
}
END_TEST

START_TEST(open_surfaces_in_a_room)
{
    static const char *const lines[] = {
        "",
        "bath,perimeter,4.5,m,,\n",
        "bath,air speed,4,m/s,,\n",
        "week,idle heating,on,,,\nweek,covered idle,100,%,,\n",
        "week,idle heating,off,,,\n",
        "week,idle heating,off,,,\nweek,covered idle,90,%,,\n",
        "bath,covered idle,75,%,,\n",
        "bath,idle temperature,35,degC,,\n",
        ("bath,covered idle,75,%,,\nbath,idle temperature,35,degC,,\nweek,covered idle,90,%,,\n"
         "week,idle heating,off,,,\n"),
    };
    const double square = 0.5 / (4 * sqrt(0.5)), work = 0.8 * open_bath(60, square, 0);
    const double expected[][2] = {
        {work, work},
        {0.8 * open_bath(60, 0.5 / 4.5, 0), 0.8 * open_bath(60, 0.5 / 4.5, 0)},
        {0.8 * open_bath(60, square, 4), 0.8 * open_bath(60, square, 4)},
        {work, 0},
        {work, 0.8 * open_bath(16, square, 0)},
        {work, 0.1 * open_bath(16, square, 0)},
        /* what the tank states comes before the schedule's */
        {work, 0.25 * open_bath(60, square, 0)},
        {work, 0.8 * open_bath(35, square, 0)},
        {work, 0.25 * open_bath(35, square, 0)},
    };
    char rows[600];
    double at_half;
    size_t i;

    for (i = 0; i < sizeof expected / sizeof expected[0]; i++) {
        dregs_tank tanks[DREGS_LINE_STAGES];
        snprintf(rows, sizeof rows, "%s%s", OPEN, lines[i]);
        parse(changed(NULL, rows));
        ck_assert_near(dregs_line_tank(line, 0)->evaporation, expected[i][0], 1e-12, "%s at work",
                       lines[i]);
        dregs_line_idle(line, 0, 0, tanks);
        ck_assert_near(tanks[0].evaporation, expected[i][0], 1e-12, "%s at rest", lines[i]);
        dregs_line_idle(line, 0, 1, tanks);
        ck_assert_near(tanks[0].evaporation, expected[i][1], 1e-12, "%s idle", lines[i]);
        ck_assert(!has_note(dregs_line_assumed, "the room's air"));
        dregs_line_free(line);
        line = NULL;
    }
    /* 9.27 degC is the dew point of 20 degC and 50 % (ASHRAE psychrometrics, from memory) */
    parse(changed(NULL, "bath,open area,0.5,m2,,\nhall,kind,room,,,\nhall,humidity,50,%,,\n"));
    at_half = dregs_line_tank(line, 0)->evaporation;
    dregs_line_free(line);
    line = NULL;
    parse(
        changed(NULL, "bath,open area,0.5,m2,,\nhall,kind,room,,,\nhall,dew point,9.27,degC,,\n"));
    ck_assert_near(dregs_line_tank(line, 0)->evaporation, at_half, 1e-3, "by its dew point");
    ck_assert(!has_note(dregs_line_assumed, "relative humidity, for evaporation"));
    dregs_line_free(line);
    line = NULL;
    parse(changed(NULL, "bath,open area,0.5,m2,,\n"));
    ck_assert(has_note(dregs_line_assumed, "the room's air: 20 degC, for evaporation"));
    ck_assert(has_note(dregs_line_assumed, "relative humidity, for evaporation"));
    ck_assert(has_note(dregs_line_assumed, "bath: its open surface is a square"));
}
END_TEST

/* What a heavy vapour's freeboard holds back, where the air is stated to be still. */
START_TEST(a_freeboard_in_still_air)
{
    static const char water_bath[] = "mix,solvent,water,,,\nmix,salt,18,g/L,10%,\n"
                                     "bath,kind,wash,,,\n";
    static const char acetone_bath[] = "mix,solvent,acetone,,,\nbath,kind,wash,,,\n"
                                       "bath,open area,0.5,m2,,\nbath,freeboard,30,cm,,\n";
    static const char still_bath[] = "mix,solvent,acetone,,,\nbath,kind,wash,,,\n"
                                     "bath,open area,0.5,m2,,\nbath,freeboard,30,cm,,\n"
                                     "bath,air speed,0,m/s,,\n";
    double open, behind;

    parse(changed(water_bath, acetone_bath));
    open = dregs_line_tank(line, 0)->evaporation;
    ck_assert(has_note(dregs_line_assumed, "bath: its freeboard holds nothing back; it does where "
                                           "the air speed is stated as 0"));
    dregs_line_free(line);
    line = NULL;
    parse(changed(water_bath, still_bath));
    behind = dregs_line_tank(line, 0)->evaporation;
    ck_assert(behind > 0 && behind < open / 10);
    ck_assert(!has_note(dregs_line_assumed, "freeboard"));
}
END_TEST

/* The kinds of the first loads, as digits. */
static void check_order(const char *digits)
{
    size_t i;

    for (i = 0; digits[i]; i++)
        ck_assert_msg(dregs_line_kind_at(line, i + 1) == (unsigned)(digits[i] - '0'),
                      "load %zu is of kind %u", i + 1, dregs_line_kind_at(line, i + 1));
}

static double out_of(unsigned kind, unsigned stage)
{
    return dregs_line_carried(dregs_line_of_kind(line, kind), stage)->out;
}

/* Numbers by hand from the rows: parts (area h + hold-up), m3 per load. */
START_TEST(loads_of_several_kinds)
{
    const dregs_line *tray, *cup;

    parse(changed(NULL, "cup,kind,load,,,\ncup,parts,4,1,,\ncup,area,50,cm2,,\n"
                        "cup,hold-up,3,mL,,\ncup,on parts oil,17,mg,,\n"
                        "first,drag-out cup,407,mL/m2,,\n"
                        "day,kind,schedule,,,\nday,sequence,tray  2 cup tray,,,\n"
                        "first,dump every,6,,,\n"));
    ck_assert_uint_eq(dregs_line_kinds(line), 2);
    ck_assert_uint_eq(dregs_line_cycle(line), 4);
    ck_assert_uint_eq(dregs_line_period(line), 12);
    check_order("0110011001100110");
    tray = dregs_line_of_kind(line, 0);
    cup = dregs_line_of_kind(line, 1);
    ck_assert_ptr_null(dregs_line_of_kind(line, 2));
    ck_assert_str_eq(dregs_line_load_name(tray), "tray");
    ck_assert_str_eq(dregs_line_load_name(cup), "cup");
    ck_assert_uint_eq(dregs_line_kinds(cup), 1);
    ck_assert_uint_eq(dregs_line_cycle(cup), 1);
    ck_assert_uint_eq(dregs_line_period(cup), 6);
    ck_assert_near(dregs_line_load(cup)->interval.si, 500, 1e-15, "one interval");
    ck_assert_near(dregs_line_solute(tray, 0)->on_parts.si, 2.4e-6, 1e-14, "tray's soil");
    ck_assert_near(dregs_line_solute(cup, 0)->on_parts.si, 17e-6, 1e-14, "cup's soil");
    ck_assert_near(dregs_line_solute(line, 0)->on_parts.si, 2.4e-6, 1e-14, "as the file says");
    ck_assert_near(out_of(0, 0), 10 * 100e-4 * 85e-6, 1e-14, "tray out of the bath");
    ck_assert_near(out_of(1, 0), 4 * (50e-4 * 85e-6 + 3e-6), 1e-14, "cup out of the bath");
    ck_assert_near(out_of(0, 1), 10 * 100e-4 * 60e-6, 1e-14, "tray out of the first rinse");
    ck_assert_near(out_of(1, 1), 4 * (50e-4 * 407e-6 + 3e-6), 1e-14, "cup out of it");
    ck_assert_near(dregs_line_carried(line, 1)->out, 6e-6, 1e-14, "the line: its first kind");
    /* the bath gets no film; what leaves is topped up, per interval */
    ck_assert_near(dregs_line_tank(tray, 0)->top_up, 8.5e-6 / 500, 1e-14, "tray's top-up");
    ck_assert_near(dregs_line_tank(cup, 0)->top_up, 13.7e-6 / 500, 1e-14, "cup's top-up");
}
END_TEST

START_TEST(a_sequence_of_names_with_blanks)
{
    parse(changed(NULL, "tray of 3,kind,load,,,\ntray of 3,parts,3,1,,\ntray of 3,area,1,cm2,,\n"
                        "3,kind,load,,,\n3,parts,3,1,,\n3,area,1,cm2,,\n"
                        "day,kind,schedule,,,\nday,sequence,2 tray of 3 tray 3 3 tray of 3,,,\n"));
    ck_assert_uint_eq(dregs_line_kinds(line), 3);
    check_order("1102211102211");
    dregs_line_free(line);
    line = NULL;
    parse(changed(NULL, CUP ORDER "tray cup tray cup,,,\n")); /* says no more than tray cup */
    ck_assert_uint_eq(dregs_line_cycle(line), 2);
    dregs_line_free(line);
    line = NULL;
    parse(changed(NULL, "day,kind,schedule,,,\nday,sequence,4 tray,,,\n"));
    ck_assert_uint_eq(dregs_line_kinds(line), 1);
    ck_assert_uint_eq(dregs_line_cycle(line), 1);
    ck_assert_uint_eq(dregs_line_period(line), 1);
    ck_assert_ptr_eq(dregs_line_of_kind(line, 0), line);
}
END_TEST

/* Values of one kind are set as any others are. */
START_TEST(a_line_with_other_values_of_one_kind)
{
    dregs_setting settings[] = {{0, "cup", "on parts oil", 4e-6},
                                {0, "first", "drag-out cup", 2e-4},
                                {0, "tray", "interval", 250}};
    dregs_line *other = NULL;
    const dregs_line *cup;

    parse(changed(NULL, CUP ORDER "tray cup,,,\ncup,on parts oil,17,mg,,\n"));
    ck_assert_int_eq(dregs_line_with(line, settings, 3, &other, NULL), DREGS_OK);
    ck_assert_uint_eq(dregs_line_kinds(other), 2);
    cup = dregs_line_of_kind(other, 1);
    ck_assert_near(dregs_line_solute(cup, 0)->on_parts.si, 4e-6, 1e-14, "soil");
    ck_assert_near(dregs_line_carried(cup, 1)->out, 4 * 50e-4 * 2e-4, 1e-14, "film");
    ck_assert_near(dregs_line_load(cup)->interval.si, 250, 1e-14, "interval");
    ck_assert_near(out_of(1, 1), 4 * 50e-4 * 60e-6, 1e-14, "the file's own stays");
    dregs_line_free(other);
    settings[0] = (dregs_setting){0, "cup", "interval", 250};
    ck_assert_int_eq(dregs_line_with(line, settings, 1, &other, NULL), DREGS_BAD_DATA);
}
END_TEST

START_TEST(the_period_is_the_least_common_multiple)
{
    parse(changed(NULL, "bath,dump every,12,,,\nfirst,dump every,18,1,,\nlast,dump every,1,,,\n"));
    ck_assert_uint_eq(dregs_line_period(line), 36);
    dregs_line_free(line);
    line = NULL;
    parse(changed(NULL, "bath,dump every,1000000,,,\nfirst,dump every,500000,,,\n"));
    ck_assert_uint_eq(dregs_line_period(line), 1000000);
}
END_TEST

/* ---- faults ---- */

/* `old` of the small line is replaced by `new_` (appended as line 35 when NULL): one fault on
 * `line`, whose text holds all the words. `cascade`: more faults may follow from it. */
/* clang-format off */
static const struct {
    const char *old, *new_;
    unsigned long line;
    const char *words[3];
    int cascade;
} faulty[] = {
    /* items and kinds */
    {"bath,kind,wash", "bath,kind,wahs", 12, {"unknown kind 'wahs'", "nearest: 'wash'", "a kind is load, solute, liquid, calibration, wash, rinse, spray, dry, target, schedule or room"}, 0},
    {"bath,kind,wash", "bath,kind,", 12, {"unknown kind ''"}, 0},
    {"bath,kind,wash,,,\nbath,volume", "bath,volume,28,L,,\nbath,kind,wash,,,\nbath,exchange", 12, {"first row of 'bath' must give its kind", "'volume'"}, 1},
    {NULL, "bath,kind,wash,,,\n", 35, {"kind of 'bath' given twice", "first: line 12"}, 0},
    {NULL, ",area,1,cm2,,\n", 35, {"cell 'item' is empty"}, 0},
    {NULL, "bath,,1,cm2,,\n", 35, {"cell 'property' is empty"}, 0},
    {NULL, CUP, 35, {"a second load (the first: line 2) and no order", "'sequence,tray cup'"}, 0},
    {NULL, CUP ORDER "tray tray cap,,,\n", 39, {"sequence of 'day': 'cap' is not a load of this file", "nearest: 'cup'"}, 0},
    {NULL, CUP ORDER "tray cup tra,,,\n", 39, {"'tra' is not a load", "nearest: 'tray'"}, 0},
    {NULL, CUP ORDER "\"tray, cup\",,,\n", 39, {"'tray,' is not a load"}, 0},
    {NULL, CUP ORDER ",,,\n", 39, {"nothing is not a load of this file"}, 0},
    {NULL, CUP ORDER "tray 3,,,\n", 39, {"nothing is not a load of this file"}, 0},
    {NULL, CUP ORDER "3 tray,,,\n", 35, {"load 'cup' never comes", "the sequence (line 39) leaves it out"}, 0},
    {NULL, CUP ORDER "999 tray 2 cup,,,\n", 39, {"more than 1000 loads in the cycle"}, 0},
    {NULL, CUP ORDER "0 tray cup,,,\n", 39, {"0 times 'tray'"}, 0},
    {NULL, CUP ORDER "tray cup,%,,\n", 39, {"sequence is a word and takes no unit"}, 0},
    {NULL, CUP ORDER "tray cup,,,\ncup,interval,500,s,,\n", 40, {"interval of 'cup': all loads come the same time apart, and line 5 states it"}, 0},
    {NULL, CUP ORDER "tray cup,,,\ncup,on parts salz,1,mg,,\n", 40, {"unknown property 'on parts salz' of 'cup', a load", "'on parts <solute>'"}, 0},
    {NULL, CUP ORDER "tray cup,,,\nbath,drag-out jug,90,mL/m2,,\n", 40, {"unknown property 'drag-out jug' of 'bath'", "'drag-out <load>'"}, 0},
    {NULL, CUP ORDER "tray cup,,,\ncup,on parts oil,1,mg,,\ntray,on parts oil,2,mg,,\n", 7, {"on parts of 'oil' never acts: every load states its own"}, 0},
    {NULL, CUP ORDER "tray cup,,,\nbath,drag-out tray,90,mL/m2,,\nbath,drag-out cup,80,mL/m2,,\n", 16, {"film of 'bath' never acts: every load has its own drag-out there"}, 0},
    {NULL, CUP ORDER "tray cup,,,\nbath,drag-out cup,2000,L/m2,,\n", 12, {"a load drags 40 L out of 'bath', more than the tank holds"}, 0},
    {NULL, CUP ORDER "2 tray cup,,,\nbath,dump every,999983,,,\n", 40, {"fall together again, with the sequence, only after 2999949 loads"}, 0},
    {"bath,removal,99.4,%,,\n", "bath,removal oil,99.4,%,,\n" "tray,on parts salt,2.4,mg,,\n", 12, {"wash 'bath' does not state its removal of 'salt'"}, 0},
    {NULL, "other,kind,target,,,\n", 35, {"a second target", "first: line 33"}, 0},
    {NULL, "a,kind,schedule,,,\nb,kind,schedule,,,\n", 36, {"a second schedule", "first: line 35"}, 0},
    {NULL, "drain,kind,liquid,,,\n", 35, {"'drain' is the drain"}, 0},
    {NULL, "total,kind,solute,,,\n", 35, {"a solute cannot be called 'total'"}, 0},
    {NULL, "kind,kind,solute,,,\n", 35, {"a solute cannot be called 'kind'"}, 0},
    {NULL, "price,kind,solute,,,\n", 35, {"a solute cannot be called 'price'"}, 0},
    {NULL, "solvent share,kind,solute,,,\n", 35, {"cannot be called 'solvent share'"}, 0},
    {NULL, "\"a\nb\",kind,solute,,,\n", 35, {"'a?b'", "line break, a control character or one that nobody sees"}, 0},
    {NULL, "a\033[2Jb,kind,solute,,,\n", 35, {"'a?[2Jb'", "control character"}, 0},
    {NULL, "a\xE2\x80\x8B" "b,kind,solute,,,\n", 35, {"'a???b'", "one that nobody sees"}, 0},
    {NULL, "a\177,kind,solute,,,\n", 35, {"'a?'", "control character"}, 0},
    {NULL, "1234567890123456789012345678901234567890123456789012345678901,kind,solute,,,\n", 35, {"longer than 60 bytes"}, 0},
    {NULL, "who,\"\033x\",1,,,\n", 35, {"first row of 'who'", "'?x'"}, 0},
    /* properties */
    {"bath,volume", "bath,volum", 13, {"unknown property 'volum' of 'bath', a wash", "nearest: 'volume'", "'removal <solute>', 'clearing <solute>', 'most <solute>', 'least <solute>' and 'drag-out <load>'"}, 0},
    {"tray,area", "tray,Area", 4, {"unknown property 'Area' of 'tray', a load", "nearest: 'area'"}, 0},
    {"tray,kind,load", "tray,kind,lod", 2, {"unknown kind 'lod'", "nearest: 'load'"}, 0},
    {"tray,area", "tray,surface", 4, {"unknown property 'surface' of 'tray', a load", "parts, area, extra area, hold-up"}, 1},
    {"mix,salt", "mix,slat", 11, {"unknown property 'slat'", "nearest: 'salt'", "and the name of a solute"}, 0},
    {"bath,removal", "bath,removal slat", 15, {"unknown property 'removal slat'"}, 1},
    {NULL, "limit,residue grease,1,ug/cm2,,\n", 35, {"unknown property 'residue grease'", "and 'concentration <solute>'"}, 0},
    {NULL, "fan,exchange,1,1,,\n", 35, {"unknown property 'exchange' of 'fan', a spray"}, 0},
    {NULL, "bath,volume,28,L,,\n", 35, {"volume of 'bath' given twice", "line 13"}, 0},
    {NULL, "bath,removal oil,90,%,,\n", 35, {"removal oil of 'bath' given twice", "line 15, removal"}, 0},
    {NULL, "mix,salt,1,g/L,,\n", 35, {"salt of 'mix' given twice", "line 11"}, 0},
    {NULL, "last,overflow to,drain,,,\n", 35, {"overflow to of 'last' given twice", "line 25"}, 0},
    /* numbers */
    {"bath,volume,28", "bath,volume,\"1,5\"", 13, {"volume of 'bath': '1,5' is not a number", "28.5"}, 0},
    {"bath,volume,28", "bath,volume,0x10", 13, {"'0x10' is not a number"}, 0},
    {"bath,volume,28", "bath,volume,1e999", 13, {"'1e999' is not a number"}, 0},
    {"bath,volume,28", "bath,volume,nan", 13, {"'nan' is not a number"}, 0},
    {"bath,volume,28", "bath,volume,inf", 13, {"'inf' is not a number"}, 0},
    {"bath,volume,28", "bath,volume,28 L", 13, {"'28 L' is not a number"}, 0},
    {"bath,volume,28", "bath,volume,", 13, {"volume of 'bath': nothing is not a number"}, 0},
    {"bath,volume,28", "bath,volume,--28", 13, {"'--28' is not a number"}, 0},
    {"bath,volume,28", "bath,volume,-28", 13, {"volume of 'bath': -28 L", "above 0"}, 0},
    {"bath,volume,28", "bath,volume,0", 13, {"0 L", "above 0"}, 0},
    {"last,flow,9", "last,flow,-9", 24, {"flow of 'last': -9 L/h", "must not be negative"}, 0},
    {"bath,volume,28", "bath,volume,1e25", 13, {"1e25 L", "beyond anything a real line could hold"}, 0},
    {"bath,volume,28", "bath,volume,1e-25", 13, {"1e-25 L", "beyond anything"}, 0},
    {"tray,parts,10", "tray,parts,2.5", 3, {"parts of 'tray': 2.5", "whole number from 1"}, 0},
    {"tray,parts,10", "tray,parts,0", 3, {"whole number from 1"}, 0},
    {"tray,parts,10", "tray,parts,2e9", 3, {"whole number from 1 to 1000000000"}, 0},
    {"bath,removal,99.4,%", "bath,removal,100.1,%", 15, {"removal of 'bath': 100.1 %", "within 0 and 1 (0 and 100 %)"}, 0},
    {"bath,removal,99.4,%", "bath,removal,99.4,", 15, {"99.4", "not a share"}, 0},
    {"bath,removal,99.4,%", "bath,removal,-1,%", 15, {"-1 %", "not a share"}, 0},
    {"oven,temperature,70", "oven,temperature,-280", 32, {"-280 degC", "below absolute zero"}, 0},
    {"mix,salt,18,g/L,10%", "mix,salt,18,g/L,-1", 11, {"spread '-1' is not a standard deviation", "10%"}, 0},
    {"mix,salt,18,g/L,10%", "mix,salt,18,g/L,%", 11, {"spread '%'"}, 0},
    {"mix,salt,18,g/L,10%", "mix,salt,18,g/L,10%%", 11, {"spread '10%%'"}, 0},
    {"mix,salt,18,g/L,10%", "mix,salt,18,g/L,nan", 11, {"spread 'nan'"}, 0},
    {"mix,salt,18,g/L,10%", "mix,salt,18,g/L,1111111111111111111111111111111111111111111111111111", 11, {"spread '1111"}, 0},
    /* units */
    {"bath,volume,28,L", "bath,volume,28,Litr", 13, {"volume of 'bath': unit 'Litr'", "for example 'L'"}, 0},
    {"bath,volume,28,L", "bath,volume,28,kg", 13, {"unit 'kg'", "for example 'L'"}, 0},
    {"bath,volume,28,L", "bath,volume,28,", 13, {"unit missing", "for example 'L'"}, 0},
    {"oven,temperature,70,degC", "oven,temperature,70,delta_degC", 32, {"unit 'delta_degC'"}, 0},
    {NULL, "mix,price,2,EUR,,\n", 35, {"price of 'mix': unit 'EUR'", "currency per volume, such as EUR/L"}, 0},
    {NULL, "mix,price,2,EUR/kg,,\n", 35, {"price of 'mix': unit 'EUR/kg'"}, 0},
    {NULL, "mix,price,2,/L,,\n", 35, {"currency per volume"}, 0},
    {NULL, "mix,price,2,EUR/L,,\nmix,disposal,1,USD/L,,\n", 36, {"disposal of 'mix': in USD, but line 35 states EUR: a file has one currency"}, 0},
    {NULL, "mix,price,-2,EUR/L,,\n", 35, {"must not be negative"}, 0},
    {"bath,liquid,mix,", "bath,liquid,mix,L", 14, {"liquid is a word and takes no unit and no spread", "'L'"}, 0},
    {"bath,liquid,mix,,", "bath,liquid,mix,,5%", 14, {"takes no unit and no spread", "'5%'"}, 0},
    /* names */
    {"mix,solvent,water", "mix,solvent,wateer", 10, {"solvent of 'mix': 'wateer' is not in the liquid data", "nearest: 'water'"}, 0},
    {"mix,solvent,water", "mix,solvent,", 10, {"solvent of 'mix': nothing is not in the liquid data"}, 0},
    {"bath,liquid,mix", "bath,liquid,mxi", 14, {"liquid of 'bath': 'mxi' is not a liquid of this file", "nearest: 'mix'"}, 0},
    {"bath,liquid,mix", "bath,liquid,first", 14, {"'first' is not a liquid of this file"}, 0},
    {"last,overflow to,first", "last,overflow to,frist", 25, {"'frist' is not a wash or rinse of this file, or drain", "nearest: 'first'"}, 0},
    {"last,overflow to,first", "last,overflow to,fan", 25, {"'fan' is not a wash or rinse"}, 0},
    {"last,overflow to,first", "last,overflow to,dran", 25, {"nearest: 'drain'"}, 0},
    {NULL, "bath,top up from,oven,,,\n", 35, {"'oven' is not a liquid, wash or rinse of this file"}, 0},
    {NULL, "bath,refill from,drain,,,\n", 35, {"'drain' is not a wash or rinse of this file"}, 0},
    {NULL, "fan,runoff to,fisrt,,,\n", 35, {"runoff to of 'fan'", "nearest: 'first'"}, 0},
    {NULL, "oven,blow-off to,tank,,,\n", 35, {"blow-off to 'tank' is not one of drain, waste"}, 0},
    {"bath,film,85,um", "bath,drag-out class,vertical wel drained,", 16, {"drag-out class 'vertical wel drained'", "horizontal very poorly drained", "nearest: 'vertical well drained'"}, 0},
    {"limit,residue,1,ug/cm2", "limit,level,K,", 34, {"level 'K' is not one of A/100"}, 1},
    {NULL, "s,kind,schedule,,,\ns,idle flow,maybe,,,\n", 36, {"idle flow 'maybe' is not one of on, off"}, 0},
    {"bath,film,85,um", "bath,film law,newton,,,\nbath,withdrawal speed,5,cm/s", 16, {"film law 'newton' is not one of plate, kushner"}, 0},
    {NULL, "first,dump at,Friday,,,\n", 35, {"dump at 'Friday' is not one of shift end, day end, week end"}, 0},
    {NULL, "s,kind,schedule,,,\ns,weekdays,Fri-Mon,,,\n", 36, {"weekdays 'Fri-Mon' are not written like Mon-Fri or Mon Wed Fri"}, 0},
    {NULL, "s,kind,schedule,,,\ns,weekdays,Mon Mon,,,\n", 36, {"weekdays 'Mon Mon'"}, 0},
    {NULL, "s,kind,schedule,,,\ns,weekdays,Mon-Sat,,,\ns,days per week,5,1,,\n", 36, {"6 weekdays, but line 37 states 5 days per week"}, 0},
    {NULL, "first,dump at,shift end,,,\n", 35, {"dump at of 'first' needs the 'loads per shift' of a schedule"}, 0},
    {NULL, "first,dump at,shift end,,,\ns,kind,schedule,,,\ns,loads per shift,2000000,1,,\n", 35, {"every 2000000 loads; allowed are 1000000"}, 1},
    {NULL, "first,reclaim,101,%,,\n", 35, {"not a share"}, 0},
    {NULL, "last,reclaim,50,%,,\n", 35, {"reclaim of 'last' never acts"}, 0},
    /* one quantity in two ways */
    {NULL, "bath,drag-out,85,mL/m2,,\n", 35, {"the film of 'bath' is given in two ways", "film in line 16", "drag-out in line 35"}, 0},
    {NULL, "first,withdrawal speed,5,cm/s,,\n", 35, {"two ways", "drag-out in line 20", "withdrawal speed in line 35"}, 0},
    {NULL, "limit,level,A,,,\n", 35, {"limit is given in two ways", "line 34"}, 0},
    {"limit,residue,1,ug/cm2,,", "limit,level,A,,,\nlimit,residue,1,ug/cm2,,", 35, {"limit is given in two ways", "line 34"}, 0},
    {NULL, "bath,evaporation,1,L/h,,\nbath,open area,1,m2,,\n", 36, {"two ways", "evaporation in line 35", "open area in line 36"}, 0},
    /* what is missing */
    {"tray,parts,10,1,,\n", "", 2, {"load 'tray' does not state its parts, which is required"}, 0},
    {"tray,area,100,cm2,,\n", "", 2, {"does not state its area"}, 0},
    {"tray,interval,500,s,,\n", "", 2, {"does not state its interval"}, 0},
    {"mix,solvent,water,,,\n", "", 9, {"liquid 'mix' does not state its solvent"}, 0},
    {"bath,volume,28,L,,\n", "", 12, {"wash 'bath' does not state its volume"}, 0},
    {"bath,liquid,mix,,,\n", "", 12, {"wash 'bath' does not state its liquid"}, 0},
    {"bath,removal,99.4,%,,\n", "", 12, {"wash 'bath' does not state its removal of 'oil'"}, 0},
    {"bath,film,85,um,,\n", "", 12, {"wash 'bath' does not state the film it leaves", "film, drag-out, drag-out class, withdrawal speed"}, 0},
    {"fan,liquid,mix,,,\n", "", 27, {"spray 'fan' does not state its liquid"}, 0},
    {"fan,use,0.5,L,,\n", "", 27, {"spray 'fan' does not state its use"}, 0},
    {"fan,film,40,um,,\n", "", 27, {"spray 'fan' does not state the film"}, 0},
    {"oven,temperature,70,degC,,\n", "", 31, {"dry 'oven' does not state its temperature"}, 0},
    {"limit,residue,1,ug/cm2,,\n", "", 33, {"target 'limit' states no limit", "residue, residue <solute>, level, concentration <solute>"}, 0},
    {NULL, "oven,air,windy,,,\n", 35, {"air 'windy' is not one of laminar, turbulent, tray, jet"}, 0},
    {NULL, "oven,air,tray,,,\n", 35, {"air of 'oven' is a tray and needs its air speed"}, 0},
    {NULL, "oven,nozzle pitch,9,mm,,\n", 35, {"nozzle pitch of 'oven' goes with 'air' jet"}, 0},
    {NULL, "oven,air,jet,,,\noven,air speed,20,m/s,,\noven,nozzle diameter,3,mm,,\n", 35, {"air of 'oven' is a jet and needs its nozzle distance"}, 0},
    {NULL, "bath,freeboard,10,cm,,\n", 35, {"freeboard of 'bath' goes with 'open area', which is not given"}, 0},
    {NULL, "bath,open area,1,m2,,\nbath,perimeter,3.5,m,,\n", 36, {"perimeter of 'bath': 3.5 m cannot hold 1 m2", "3.545 m"}, 0},
    {NULL, "a,kind,room,,,\nb,kind,room,,,\n", 36, {"a second room; a line has one (the first: line 35)"}, 0},
    {NULL, "a,kind,room,,,\na,humidity,110,%,,\n", 36, {"not a share"}, 0},
    {NULL, "a,kind,room,,,\na,humidity,50,%,,\na,dew point,9,degC,,\n", 37, {"one quantity of 'a' is given in two ways"}, 0},
    {NULL, "a,kind,room,,,\na,dew point,20.5,degC,,\n", 36, {"the dew point of a is 20.5 degC", "up to the air's 20 degC"}, 0},
    {NULL, "a,kind,room,,,\na,dew point,-2,degC,,\n", 36, {"the dew point of a is -2 degC", "from 0.01 degC"}, 0},
    {NULL, "s,kind,schedule,,,\ns,idle heating,low,,,\n", 36, {"idle heating 'low' is not one of on, off"}, 0},
    {NULL, "bath,open area,1,m2,,\nbath,temperature,101,degC,,\n", 35, {"evaporation of 'bath' cannot be computed", "boils"}, 0},
    {NULL, "bath,covered idle,10,%,,\n", 35, {"covered idle of 'bath' goes with 'open area', which is not given"}, 0},
    {NULL, "bath,idle temperature,30,degC,,\n", 35, {"idle temperature of 'bath' goes with 'open area' or 'evaporation'"}, 0},
    {NULL, "bath,covered,10,%,,\n", 35, {"covered of 'bath' goes with 'open area', which is not given"}, 0},
    {NULL, "bath,air speed,1,m/s,,\n", 35, {"air speed of 'bath' goes with 'open area'"}, 0},
    {NULL, "bath,drain time,1,s,,\n", 35, {"drain time of 'bath' goes with 'withdrawal speed'"}, 0},
    {NULL, "bath,film law,plate,,,\n", 35, {"film law of 'bath' goes with 'withdrawal speed'"}, 0},
    {"bath,film,85,um,,\n", "bath,withdrawal speed,5,cm/s,,\nbath,drain time,9,s,,\n", 17, {"drain time of 'bath' needs the load's height"}, 0},
    /* limits of concentration */
    {NULL, "bath,most oil,2,g/L,,\nbath,least oil,2,g/L,,\n", 36, {"'oil' of 'bath': at least 2 g/L and at most 2 g/L leave nothing"}, 0},
    {NULL, "bath,most,2,g/L,,\n", 35, {"'most'"}, 0},
    {NULL, "bath,most dissolved,2,g,,\n", 35, {"most dissolved of 'bath': unit 'g'"}, 0},
    {NULL, "limit,rinse ratio,0,1,,\n", 35, {"rinse ratio of 'limit': 0 1 is not allowed, it must be above 0"}, 0},
    {NULL, "limit,conductivity,5,uS/cm,,\n", 35, {"conductivity of 'limit' needs a solute with conductivity or electrolyte"}, 0},
    {NULL, "limit,measured in,bath,,,\n", 35, {"measured in of 'limit' goes with concentration <solute>"}, 0},
    {NULL, "limit,measured in,fan,,,\nlimit,non-volatile residue,5,mg/L,,\n", 35, {"'fan'", "a wash or rinse of this file"}, 0},
    {NULL, "limit,measured in,bath,,,\nlimit,rinse ratio,1000,1,,\n", 36, {"rinse ratio of 'limit' needs a wash before the rinse"}, 0},
    {NULL, "mix,oil,5,g/L,,\nmix,solubility oil,2,g/L,,\n", 36, {"'mix' holds 5 g/L of 'oil' when fresh, more than the 2 g/L that dissolve in it"}, 0},
    /* circles */
    {NULL, "first,overflow to,last,,,\n", 17, {"overflows and top-ups run in a circle: first -> last -> first", "'drain'"}, 0},
    {NULL, "bath,overflow to,bath,,,\n", 12, {"in a circle: bath -> bath"}, 0},
    {NULL, "bath,top up from,first,,,\nfirst,overflow to,last,,,\n", 17, {"first -> last -> first"}, 0},
    {NULL, "bath,top up from,last,,,\nfirst,overflow to,bath,,,\n", 12, {"circle: bath -> last -> first -> bath"}, 0},
    {NULL, "last,dump every,5,,,\nfirst,dump every,5,,,\nlast,refill from,first,,,\nfirst,refill from,last,,,\n", 17, {"refills run in a circle: first -> last -> first"}, 0},
    /* refills */
    {NULL, "first,refill from,last,,,\n", 35, {"refill from of 'first' never acts"}, 0},
    {NULL, "bath,refill from,last,,,\nbath,dump every,5,,,\n", 35, {"'bath' refills from 'last', which holds less"}, 0},
    /* tanks that are shared */
    {NULL, "x,kind,rinse,,,\nx,shares tank with,first,,,\nx,film,60,um,,\nx,volume,20,L,,\n", 38, {"volume belongs to the tank of 'first' and cannot be stated again by 'x'"}, 0},
    {NULL, "last,hold-up exchange,20,%,,\n", 35, {"hold-up exchange of 'last' needs the load's hold-up, which is not given"}, 0},
    {NULL, "tray,hold-up exchange,20,%,,\n", 35, {"hold-up exchange of 'tray' needs the load's hold-up"}, 0},
    {NULL, "tray,hold-up,1,mL,,\nlast,hold-up exchange,101,%,,\n", 36, {"hold-up exchange of 'last': 101 % is not a share"}, 0},
    {NULL, "last,capacity,2,g,,\n", 35, {"capacity of 'last' needs a 'clearing <solute>' above 0, and none is given"}, 1},
    {NULL, "last,clearing oil,20,L/h,,\nlast,change every,20,,,\n", 36, {"change every", "capacity"}, 0},
    {NULL, "last,clearing oil,20,L/h,,\nlast,capacity,2,g,,\nlast,change price,90,EUR/L,,\n", 37, {"unit 'EUR/L': a price of one change is a currency, such as EUR; allowed is for example 'EUR'"}, 1},
    {NULL, "last,clearing oil,20,L/h,,\nlast,capacity,0,g,,\n", 36, {"not allowed, it must be above 0"}, 1},
    {NULL, "x,kind,rinse,,,\nx,shares tank with,first,,,\nx,film,60,um,,\nx,capacity,2,g,,\n", 38, {"capacity belongs to the tank of 'first'"}, 0},
    {NULL, "x,kind,rinse,,,\nx,shares tank with,first,,,\nx,film,60,um,,\nx,clearing oil,20,L/h,,\n", 38, {"clearing belongs to the tank of 'first'"}, 0},
    {NULL, "x,kind,rinse,,,\nx,shares tank with,x,,,\nx,film,60,um,,\n", 36, {"'x' shares its tank with 'x', which is not an earlier stage"}, 0},
    {"first,volume,20,L,,\nfirst,liquid,mix,,,\n", "first,shares tank with,last,,,\n", 18, {"'first' shares its tank with 'last', which is not an earlier stage"}, 1},
    {NULL, "x,kind,rinse,,,\nx,shares tank with,fan,,,\nx,film,60,um,,\n", 36, {"'fan' is not a wash or rinse"}, 1},
    /* what cannot be */
    {"fan,use,0.5,L,,\nfan,film,40", "fan,use,1,mL,,\nfan,film,85", 29, {"'fan' cannot leave the film stated", "0.001 L are sprayed", "more use or a thinner film"}, 0},
    {"fan,use,0.5,L,,\nfan,film,40", "fan,use,15,mL,,\nfan,film,200", 29, {"'fan' cannot leave the film stated", "0.015 L are sprayed", "0.02 L would leave with 8.2"}, 0}, /* exp(-2.5) */
    {"bath,volume,28,L", "bath,volume,8.5,mL", 12, {"drags 0.0085 L out of 'bath', more than the tank holds"}, 0},
    {"bath,film,85,um", "bath,withdrawal speed,200,m/s", 16, {"film law does not hold at this speed", "capillary number", "allowed up to 2"}, 0},
    {"bath,film,85,um,,\n", "bath,withdrawal speed,5,cm/s,,\nbath,temperature,105,degC,,\n", 16, {"film of 'bath' cannot be computed", "viscosity of 'water' at 105 degC", "to 99.85 degC"}, 0},
    {"mix,solvent,water,,,\nmix,salt,18,g/L,10%,\nbath,kind,wash,,,\nbath,volume,28,L,,\nbath,liquid,mix,,,\nbath,removal,99.4,%,,\nbath,film,85,um", "mix,solvent,isopropanol,,,\nmix,solvent share,70,%,,\nbath,kind,wash,,,\nbath,volume,28,L,,\nbath,liquid,mix,,,\nbath,removal,99.4,%,,\nbath,withdrawal speed,5,cm/s", 16, {"film of 'bath' cannot be computed", "mix is a mixture", "state a measured film"}, 0},
    {"mix,solvent,water,,,\nmix,salt,18,g/L,10%,\nbath,kind,wash,,,\n", "mix,solvent,isopropanol,,,\nmix,solvent share,70,%,,\nbath,kind,wash,,,\nbath,open area,1,m2,,\n", 13, {"evaporation of 'bath' cannot be computed", "mixture", "state a measured evaporation"}, 0},
    {"mix,solvent,water,,,\nmix,salt,18,g/L,10%,\nbath,kind,wash,,,\n", "mix,solvent,bare,,,\nmix,salt,18,g/L,10%,\nbath,kind,wash,,,\nbath,open area,1,m2,,\n", 13, {"evaporation of 'bath' cannot be computed", "no vapour pressure of 'bare'"}, 0},
    {NULL, "tray,edge,1,cm,,\nbath,temperature,105,degC,,\n", 35, {"film of 'bath' cannot be computed", "105 degC"}, 0},
    {NULL, "bath,temperature,140,degC,,\n", 35, {"140 degC", "water boils at 99.97 degC"}, 0},
    {"bath,kind,wash,,,", "bath,kind,wash,L,,", 12, {"a kind is a word", "'L'"}, 0},
    {NULL, "bath,dump every,999983,,,\nfirst,dump every,999979,,,\n", 36, {"fall together again only after 999962000357 loads", "1000000", "common factors"}, 0},
    /* how a meter sees it */
    {NULL, "salt,electrolyte,NaCI,,,\n", 35, {"electrolyte of 'salt': 'NaCI' is not one of NaCl, KCl, NaOH, Na2CO3, NaHCO3", "nearest: 'NaCl'"}, 0},
    {NULL, "salt,hazard,Acid,,,\n", 35, {"hazard of 'salt': 'Acid' is not one of none, caustic, acid, oxidiser"}, 0},
    {NULL, "salt,electrolyte,nacl,,,\n", 35, {"'nacl' is not one of", "nearest: 'NaCl'"}, 0}, /* letters count */
    {NULL, "salt,electrolyte,NaHCO,,,\n", 35, {"nearest: 'NaHCO3'"}, 0},
    {NULL, "salt,electrolyte,,,,\n", 35, {"electrolyte of 'salt': nothing is not one of"}, 0},
    {NULL, "salt,electrolyte,KCl,g/L,,\n", 35, {"takes no unit and no spread"}, 0},
    {NULL, "salt,conductivity,1.6,uS/cm per mg/L,,\nsalt,electrolyte,KCl,,,\n", 36, {"'salt' is given in two ways", "conductivity in line 35", "electrolyte in line 36"}, 0},
    {NULL, "salt,electrolyte,KCl,,,\nsalt,conductivity,1.6,uS/cm per mg/L,,\n", 36, {"'salt' is given in two ways", "electrolyte in line 35"}, 0},
    {NULL, "salt,conductivity,0,uS/cm per mg/L,,\n", 35, {"above 0"}, 0},
    {NULL, "mix,compensation,liner,,,\n", 35, {"compensation of 'mix': 'liner' is not one of none, linear, natural water, pure water", "nearest: 'linear'"}, 0},
    {NULL, "mix,compensation,Pure Water,,,\n", 35, {"'Pure Water' is not one of", "nearest: 'pure water'"}, 0},
    {NULL, "mix,compensation,,,,\n", 35, {"compensation of 'mix': nothing"}, 0},
    {NULL, "mix,temperature coefficient,2,%/K,,\n", 35, {"temperature coefficient", "goes with 'compensation' linear, which is not given"}, 0},
    {NULL, "mix,compensation,pure water,,,\nmix,temperature coefficient,2,%/K,,\n", 36, {"temperature coefficient", "goes with 'compensation' linear"}, 0},
    {NULL, "mix,compensation,none,,,\nmix,temperature coefficient,2,%/K,,\n", 36, {"goes with 'compensation' linear"}, 0},
    {NULL, "mix,compensation,linear,,,\nmix,temperature coefficient,3.01,%/K,,\n", 36, {"3.01 %/K is above the 3 %/K that is taken"}, 0},
    {NULL, "mix,compensation,linear,,,\nmix,temperature coefficient,0,%/K,,\n", 36, {"above 0"}, 0},
    {NULL, "mix,compensation,linear,,,\nmix,temperature coefficient,2,%,,\n", 36, {"temperature coefficient of 'mix': unit '%'", "for example '%/K'"}, 0},
    {NULL, "bath,compensation,linear,,,\n", 35, {"unknown property 'compensation' of 'bath', a wash"}, 0},
    {NULL, "mix,electrolyte,KCl,,,\n", 35, {"unknown property 'electrolyte' of 'mix', a liquid"}, 0},
    /* calibrations */
    {NULL, "m,kind,calibratoin,,,\n", 35, {"unknown kind 'calibratoin'", "nearest: 'calibration'"}, 0},
    {NULL, "conductivity,kind,calibration,,,\n", 35, {"a calibration cannot be called 'conductivity'", "a log of readings means another thing by it"}, 0},
    {NULL, "non-volatile residue,kind,calibration,,,\n", 35, {"cannot be called 'non-volatile residue'"}, 0},
    {NULL, "dump,kind,calibration,,,\n", 35, {"cannot be called 'dump'"}, 0},
    {NULL, "concentration oil,kind,calibration,,,\n", 35, {"cannot be called 'concentration oil'"}, 0},
    {NULL, "m,kind,calibration,,,\nm,reading 1,1,NTU,,\nm,concentration 1,0,g/L,,\nm,reading 2,5,NTU,,\nm,concentration 2,1,g/L,,\n", 35, {"calibration 'm' does not state its solute"}, 0},
    {NULL, "m,kind,calibration,,,\nm,solute,sallt,,,\nm,reading 1,1,NTU,,\nm,concentration 1,0,g/L,,\nm,reading 2,5,NTU,,\nm,concentration 2,1,g/L,,\n", 36, {"solute of 'm': 'sallt' is not a solute of this file, or total", "nearest: 'salt'"}, 0},
    {NULL, "m,kind,calibration,,,\nm,solute,toatl,,,\nm,reading 1,1,NTU,,\nm,concentration 1,0,g/L,,\nm,reading 2,5,NTU,,\nm,concentration 2,1,g/L,,\n", 36, {"nearest: 'total'"}, 0},
    {NULL, "m,kind,calibration,,,\nm,solute,mix,,,\nm,reading 1,1,NTU,,\nm,concentration 1,0,g/L,,\nm,reading 2,5,NTU,,\nm,concentration 2,1,g/L,,\n", 36, {"solute of 'm': 'mix' is not a solute"}, 0},
    {NULL, "m,kind,calibration,,,\nm,solute,salt,,,\nm,reading 1,1,NTU,,\nm,concentration 1,0,g/L,,\nm,reading 2,5,NTU,,\n", 39, {"point 2 of 'm' has a reading and no concentration"}, 0},
    {NULL, "m,kind,calibration,,,\nm,solute,salt,,,\nm,reading 1,1,NTU,,\nm,concentration 1,0,g/L,,\nm,concentration 7,5,g/L,,\n", 39, {"point 7 of 'm' has a concentration and no reading"}, 0},
    {NULL, "m,kind,calibration,,,\nm,solute,salt,,,\nm,reading 1,1,NTU,,\nm,concentration 1,0,g/L,,\nm,reading 2,5,FNU,,\nm,concentration 2,1,g/L,,\n", 39, {"the readings of 'm' are in 'NTU' and here in 'FNU'; use one unit"}, 0},
    {NULL, "m,kind,calibration,,,\nm,solute,salt,,,\nm,reading 1,1,NTU,,\nm,concentration 1,0,g/L,,\nm,reading 2,5,,,\nm,concentration 2,1,g/L,,\n", 39, {"the readings of 'm' are in 'NTU' and here in ''"}, 0},
    {NULL, "m,kind,calibration,,,\nm,solute,salt,,,\nm,reading 1,1,NTU,,\nm,concentration 1,0,g/L,,\nm,reading 2,5,NTU,,\nm,concentration 2,1,kg,,\n", 40, {"concentration 2 of 'm': unit 'kg'", "for example 'g/L'"}, 1},
    {NULL, "m,kind,calibration,,,\nm,solute,salt,,,\nm,reading 1,1,NTU,,\nm,concentration 1,0,g/L,,\nm,reading 2,5,NTU,,\nm,concentration 2,-1,g/L,,\n", 40, {"must not be negative"}, 1},
    {NULL, "m,kind,calibration,,,\nm,solute,salt,,,\nm,reading 1,1,NTU,,\nm,concentration 1,0,g/L,,\nm,reading 2,5.,5,NTU,,\nm,concentration 2,1,g/L,,\n", 39, {"7 cells, the header has 6"}, 1},
    {NULL, "m,kind,calibration,,,\nm,solute,salt,,,\nm,reading 1,one,NTU,,\nm,concentration 1,0,g/L,,\n", 37, {"reading 1 of 'm': 'one' is not a number"}, 1},
    {NULL, "m,kind,calibration,,,\nm,solute,salt,,,\n", 35, {"calibration 'm': a calibration has 2 to 20 points"}, 0},
    {NULL, "m,kind,calibration,,,\nm,solute,salt,,,\nm,reading 1,1,NTU,,\nm,concentration 1,0,g/L,,\n", 35, {"calibration 'm': a calibration has 2 to 20 points"}, 0},
    {NULL, "m,kind,calibration,,,\nm,solute,salt,,,\nm,reading 1,1,NTU,,\nm,concentration 1,0,g/L,,\nm,reading 2,5,NTU,,\nm,concentration 2,1,g/L,,\nm,reading 3,4,NTU,,\nm,concentration 3,2,g/L,,\n", 39, {"calibration 'm': the readings do not rise or fall all the way with the concentration"}, 0}, /* at the point where it turns */
    {NULL, "m,kind,calibration,,,\nm,solute,salt,,,\nm,reading 1,1,NTU,,\nm,concentration 1,0,g/L,,\nm,reading 2,1,NTU,,\nm,concentration 2,1,g/L,,\n", 37, {"calibration 'm': two points have the same reading"}, 0},
    {NULL, "m,kind,calibration,,,\nm,solute,salt,,,\nm,reading 1,1,NTU,,\nm,concentration 1,2,g/L,,\nm,reading 2,5,NTU,,\nm,concentration 2,2,g/L,,\n", 37, {"calibration 'm': two points have the same concentration"}, 0},
    {NULL, "m,kind,calibration,,,\nm,solute,salt,,,\nm,reading 1,1,NTU,,\nm,concentration 1,0,g/L,,\nm,reading 2,5,NTU,,\nm,concentration 2,1,g/L,,\nm,reading 2,6,NTU,,\n", 41, {"reading 2 of 'm' given twice", "line 39"}, 0},
    {NULL, "m,kind,calibration,,,\nm,solute,salt,,,\nm,reading 1,1,NTU,,\nm,concentration 1,0,g/L,,\nm,reading 2,5,NTU,,\nm,concentration 2,1,g/L,,\nm,reading 21,6,NTU,,\n", 41, {"unknown property 'reading 21' of 'm', a calibration", "numbers from 1 to 20"}, 0},
    {NULL, "m,kind,calibration,,,\nm,solute,salt,,,\nm,reading 1,1,NTU,,\nm,concentration 1,0,g/L,,\nm,reading 2,5,NTU,,\nm,concentration 2,1,g/L,,\nm,reading 0,6,NTU,,\n", 41, {"unknown property 'reading 0'"}, 0},
    {NULL, "m,kind,calibration,,,\nm,solute,salt,,,\nm,reading 1,1,NTU,,\nm,concentration 1,0,g/L,,\nm,reading 2,5,NTU,,\nm,concentration 2,1,g/L,,\nm,reading 02,6,NTU,,\n", 41, {"unknown property 'reading 02'"}, 0},
    {NULL, "m,kind,calibration,,,\nm,solute,salt,,,\nm,reading 1,1,NTU,,\nm,concentration 1,0,g/L,,\nm,reading 2,5,NTU,,\nm,concentration 2,1,g/L,,\nm,reading 1x,6,NTU,,\n", 41, {"unknown property 'reading 1x'"}, 0},
    {NULL, "m,kind,calibration,,,\nm,solute,salt,,,\nm,reading 1,1,NTU,,\nm,concentration 1,0,g/L,,\nm,reading 2,5,NTU,,\nm,concentration 2,1,g/L,,\nm,reading ,6,NTU,,\n", 41, {"unknown property 'reading' of 'm'"}, 0},
    /* the table itself */
    {"bath,volume,28,L,,", "bath,volume", 13, {"2 cells, the header has 6"}, 1},
    {"bath,volume,28,L,,", "bath,volume,28,5,L,,", 13, {"7 cells, the header has 6", "stands in quotes"}, 0},
    {"bath,volume,28,L,,", "bath,volume,\"28,L,,", 13, {"a quote is opened here and never closed"}, 0},
    {"bath,volume,28,L,,", "bath,volume,2\"8,L,,", 13, {"quote in the wrong place"}, 0},
    {"bath,volume,28,L,,", "bath,volume,28,L,,\xFF", 13, {"not UTF-8"}, 0},
    {"bath,volume,28,L,,", "bath,volume,28,L,,\xC0\x80", 13, {"not UTF-8"}, 0},
    {"item,property", "item,proprety", 1, {"unknown column 'proprety'", "nearest 'property'"}, 1},
    {"item,property", "item,item,property", 1, {"a second column 'item'"}, 1},
    {"unit,spread,note", "spread,note", 1, {"column 'unit' is missing from the header"}, 0},
};
/* clang-format on */

START_TEST(every_fault_is_named)
{
    const char *text = changed(faulty[_i].old, faulty[_i].new_);
    dregs_line *untouched = (dregs_line *)(void *)&faults;
    unsigned i, k, found = 0;

    memset(&faults, 0, sizeof faults);
    ck_assert_msg(dregs_line_parse("own.csv", text, strlen(text), table, &untouched, &faults) ==
                      DREGS_BAD_DATA,
                  "case %d was accepted: %s", _i, faulty[_i].new_);
    ck_assert_ptr_eq(untouched, (dregs_line *)(void *)&faults);
    ck_assert_str_eq(faults.file, "own.csv");
    for (i = 0; i < faults.count && !found; i++) {
        found = faults.fault[i].line == faulty[_i].line;
        for (k = 0; k < 3 && faulty[_i].words[k]; k++)
            found = found && strstr(faults.fault[i].text, faulty[_i].words[k]);
    }
    ck_assert_msg(found, "case %d, expected line %lu, %s; %u faults, the first: line %lu: %s", _i,
                  faulty[_i].line, faulty[_i].words[0], faults.count, faults.fault[0].line,
                  faults.fault[0].text);
    ck_assert_msg(faulty[_i].cascade || faults.count == 1, "case %d: a second fault: line %lu: %s",
                  _i, faults.fault[1].line, faults.fault[1].text);
    ck_assert_int_eq(faults.fault[0].status, DREGS_BAD_DATA);
    ck_assert_int_eq(dregs_line_parse("own.csv", text, strlen(text), table, &untouched, NULL),
                     DREGS_BAD_DATA);
}
END_TEST

/* Texts that are no line at all. */
static const struct {
    const char *text;
    size_t length; /* 0: up to the NUL */
    unsigned long line;
    const char *words;
} hopeless[] = {
    {"", 0, 0, "the file is empty"},
    {"\n\n# only a remark\n,,,,,\n", 0, 0, "the file is empty"},
    {"\xEF\xBB\xBF", 0, 0, "the file is empty"},
    {HEAD, 0, 0, "no row follows the header"},
    {"item,property,value,unit", 0, 0, "no row follows the header"},
    {"%PDF-1.4\n\x01\x02", 0, 1, "a PDF document, no CSV file"},
    {HEAD "a,b\0c,,,,\n", sizeof HEAD - 1 + 10, 2, "a NUL byte"},
    {"i\0t\0e\0m\0", 8, 1, "a NUL byte"}, /* UTF-16 */
    {HEAD "w,kind,liquid,,,\nw,solvent,water,,,\n", 0, 0, "no item is a load"},
    {HEAD LOAD "w,kind,liquid,,,\nw,solvent,water,,,\n", 0, 0, "no item is a solute"},
    {HEAD LOAD "oil,kind,solute,,,\no,kind,dry,,,\no,temperature,20,degC,,\n", 0, 0,
     "no item is a wash, rinse or spray"},
};

START_TEST(what_is_no_line_is_refused)
{
    size_t length = hopeless[_i].length ? hopeless[_i].length : strlen(hopeless[_i].text);
    unsigned i;

    ck_assert_int_eq(parse_bytes(hopeless[_i].text, length), DREGS_BAD_DATA);
    ck_assert_ptr_null(line);
    ck_assert_uint_gt(faults.count, 0);
    for (i = 0; i < faults.count; i++)
        if (faults.fault[i].line == hopeless[_i].line &&
            strstr(faults.fault[i].text, hopeless[_i].words))
            return;
    ck_abort_msg("case %d: line %lu: %s", _i, faults.fault[0].line, faults.fault[0].text);
}
END_TEST

START_TEST(faults_come_in_the_order_of_lines)
{
    unsigned i;

    /* found in three passes: kinds, rows, what is missing */
    ck_assert_int_eq(parse_bytes(changed("tray,parts,10,1,,\n", "tray,edge,-1,cm,,\n"), 0),
                     DREGS_BAD_DATA); /* no bytes at all */
    {
        const char *text = changed("tray,parts,10,1,,\n", "tray,edge,-1,cm,,\nz,kind,zzz,,,\n"
                                                          "bath,volume,x,L,,\n"
                                                          "last,overflow to,nowhere,,,\n");
        ck_assert_int_eq(parse_bytes(text, strlen(text)), DREGS_BAD_DATA);
    }
    ck_assert_uint_ge(faults.count, 5);
    for (i = 1; i < faults.count; i++)
        ck_assert_uint_le(faults.fault[i - 1].line, faults.fault[i].line);
    ck_assert_uint_eq(faults.fault[0].line, 2); /* parts are missing */
    ck_assert_uint_eq(faults.fault[1].line, 3);
    ck_assert_uint_eq(faults.fault[2].line, 4);
    ck_assert_uint_eq(faults.more, 0);
}
END_TEST

/* Appends count rows to the small line; format takes the number twice. */
static const char *many(int count, const char *format)
{
    static char text[500000];
    size_t used = (size_t)snprintf(text, sizeof text, "%s", small);
    int i;

    for (i = 0; i < count; i++) {
        char row[160], number[16], *hash;
        snprintf(row, sizeof row, "%s", format);
        snprintf(number, sizeof number, "%04d", i);
        while ((hash = strstr(row, "####")))
            memcpy(hash, number, 4);
        used += (size_t)snprintf(text + used, sizeof text - used, "%s", row);
    }
    return text;
}

START_TEST(no_more_than_twenty_faults_are_kept)
{
    static const char *const rows[] = {"bath,volume,####x,L,,\n", "####,kind,####,,,\n",
                                       "####,area,1,m2,,\n", "a,b\n"};
    const char *text = many(50, rows[_i]);

    ck_assert_int_eq(parse_bytes(text, strlen(text)), DREGS_BAD_DATA);
    ck_assert_uint_eq(faults.count, DREGS_FAULTS_MAX);
    ck_assert_uint_gt(faults.more, 0);
    ck_assert_ptr_null(line);
}
END_TEST

START_TEST(too_many_of_a_kind)
{
    static const struct {
        int count, fits;
        const char *row, *words;
    } most[] = {
        {60, 59, "s####,kind,dry,,,\ns####,temperature,20,degC,,\n", "more than 64 stages"},
        {31, 30, "x####,kind,solute,,,\n", "more than 32 solutes"},
        {247, 246, "l####,kind,liquid,,,\nl####,solvent,water,,,\n", "more than 256 items"},
        {20000, 0, "tray,kind,load,,,\n", "more than 20000 rows"},
    };
    const char *text = many(most[_i].count, most[_i].row);
    unsigned i, found = 0;

    ck_assert_int_eq(parse_bytes(text, strlen(text)), DREGS_BAD_DATA);
    for (i = 0; i < faults.count; i++)
        found = found || strstr(faults.fault[i].text, most[_i].words);
    ck_assert_msg(found, "%s", faults.fault[0].text);
    text = many(most[_i].fits, most[_i].row);
    if (_i < 3) /* the small line itself has 5 stages, 2 solutes, 10 items */
        ck_assert_int_eq(parse_bytes(text, strlen(text)), DREGS_OK);
}
END_TEST

START_TEST(streams)
{
    FILE *file = tmpfile();
    size_t i;

    ck_assert_ptr_nonnull(file);
    ck_assert_uint_eq(fwrite(small, 1, sizeof small - 1, file), sizeof small - 1);
    rewind(file);
    memset(&faults, 0, sizeof faults);
    ck_assert_int_eq(dregs_line_read("s.csv", file, table, &line, &faults), DREGS_OK);
    ck_assert_str_eq(dregs_line_name(line), "s.csv");
    dregs_line_free(line);
    line = NULL;
    for (i = sizeof small - 1; i <= DREGS_LINE_BYTES; i++)
        fputc('\n', file);
    rewind(file);
    ck_assert_int_eq(dregs_line_read("s.csv", file, table, &line, &faults), DREGS_BAD_DATA);
    ck_assert_ptr_null(line);
    ck_assert_ptr_nonnull(strstr(faults.fault[0].text, "larger than any line file"));
    rewind(file);
    ck_assert_int_eq(dregs_line_read("s.csv", file, table, &line, NULL), DREGS_BAD_DATA);
    fclose(file);
    file = fopen("/dev/null", "wb"); /* cannot be read from */
    ck_assert_ptr_nonnull(file);
    memset(&faults, 0, sizeof faults);
    ck_assert_int_eq(dregs_line_read("s.csv", file, table, &line, &faults), DREGS_IO);
    ck_assert_int_eq(faults.fault[0].status, DREGS_IO);
    fclose(file);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("line");
    TCase *description = tcase_create("description"), *follows = tcase_create("follows");
    TCase *refusals = tcase_create("refusals");

    tcase_add_checked_fixture(description, setup, teardown);
    tcase_add_test(description, load_and_solutes_in_si);
    tcase_add_test(description, liquids_in_si);
    tcase_add_test(description, metering_in_si);
    tcase_add_test(description, calibrations_in_si);
    tcase_add_test(description, a_calibration_of_twenty_points);
    tcase_add_test(description, tanks_in_si);
    tcase_add_test(description, other_stages_and_limits_in_si);
    tcase_add_test(description, stages_are_what_their_kinds_are);
    tcase_add_test(description, a_working_has_its_numbers_and_their_source);
    tcase_add_test(description, rows_are_kept_as_written);
    tcase_add_test(description, accessors_out_of_range);
    tcase_add_test(description, assumed_and_unused_are_said);
    tcase_add_test(description, loads_of_several_kinds);
    tcase_add_test(description, a_sequence_of_names_with_blanks);
    tcase_add_test(description, a_line_with_other_values_of_one_kind);
    tcase_add_test(description, the_grammar_lists_every_property_once);
    tcase_add_test(description, each_question_uses_other_rows);
    tcase_add_test(description, defaults);
    tcase_add_loop_test(description, a_level_is_a_limit, 0, 2);
    tcase_add_test(description, line_ends_and_optional_columns);
    tcase_add_test(description, nothing_is_asked_of_faults);
    suite_add_tcase(suite, description);

    tcase_add_checked_fixture(follows, setup, teardown);
    tcase_add_test(follows, films_of_stated_thickness);
    tcase_add_test(follows, films_by_class);
    tcase_add_test(follows, films_by_law);
    tcase_add_test(follows, a_bath_with_surfactant);
    tcase_add_test(follows, volume_balance);
    tcase_add_test(follows, rows_may_leave_out_empty_cells_at_their_end);
    tcase_add_test(follows, sums_that_cancel_are_nothing);
    tcase_add_test(follows, evaporation_by_open_area);
    tcase_add_test(follows, open_surfaces_in_a_room);
    tcase_add_test(follows, a_surface_colder_than_its_liquid);
    tcase_add_test(follows, a_freeboard_in_still_air);
    tcase_add_test(follows, the_period_is_the_least_common_multiple);
    suite_add_tcase(suite, follows);

    tcase_add_checked_fixture(refusals, setup, teardown);
    tcase_add_loop_test(refusals, every_fault_is_named, 0, (int)(sizeof faulty / sizeof faulty[0]));
    tcase_add_loop_test(refusals, what_is_no_line_is_refused, 0,
                        (int)(sizeof hopeless / sizeof hopeless[0]));
    tcase_add_test(refusals, faults_come_in_the_order_of_lines);
    tcase_add_loop_test(refusals, no_more_than_twenty_faults_are_kept, 0, 4);
    tcase_add_loop_test(refusals, too_many_of_a_kind, 0, 4);
    tcase_add_test(refusals, streams);
    suite_add_tcase(suite, refusals);
    return run(suite);
}
