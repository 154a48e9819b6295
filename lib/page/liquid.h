/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* liquid.h: what the files of the page of a liquid share; not for others. */
#ifndef DREGS_PAGE_LIQUID_H
#define DREGS_PAGE_LIQUID_H

#include "page/inside.h"

/* What a figure rests on: the equation of its row, the model of its mixture; NULL for a word and
 * for a value that is computed of others. */
const char *dregs_page_equation(const dregs_liquid_figure *figure);

/* How many coefficients a model of mixtures has. */
int dregs_page_model_coefficients(const dregs_mixture_row *model);

/* What was asked, the figures with their coefficients, and the regulations, for programs. */
void dregs_page_liquid_data(dregs_report *report, const dregs_liquid_request *request,
                            const dregs_liquid_result *result);

/* The same as pictures. */
void dregs_page_liquid_pictures(dregs_report *report, const dregs_liquid_request *request,
                                const dregs_liquid_result *result);

/* The figures of all liquids, for programs; they are asked for when they are written. */
void dregs_page_liquids_data(dregs_report *report, const dregs_liquids *liquids);

#endif
