/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* purchase.h: what was really bought, disposed of and recovered, and what of it a model leaves
 * unexplained.
 *
 * The file is described in dregs-purchases(5): a row for a delivery or a collection. It tells when
 * liquid came onto and left the site, not when it was used: a drum that is opened later makes a
 * month uncertain, and a year less so.
 */
#ifndef DREGS_PURCHASE_H
#define DREGS_PURCHASE_H

#include "dregs/line.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum dregs_purchase_kind {
    DREGS_PURCHASE_BOUGHT,    /**< "bought": delivered for the line */
    DREGS_PURCHASE_DISPOSED,  /**< "disposed": left for good, as waste */
    DREGS_PURCHASE_RECOVERED, /**< "recovered": out of the line's waste, put back into the line */
    DREGS_PURCHASE_STOCK,     /**< "stock": counted, unused, at the end of the day */
    DREGS_PURCHASE_SOLD,      /**< "sold": left as a product of value */
    DREGS_PURCHASE_ELSEWHERE, /**< "elsewhere": recovered, and used elsewhere */
    DREGS_PURCHASE_KINDS
} dregs_purchase_kind;

/** "bought", "disposed", "recovered", "stock", "sold", "elsewhere"; NULL past the end. */
DREGS_API const char *dregs_purchase_kind_name(dregs_purchase_kind kind);

/** One row of the file. */
typedef struct dregs_purchase {
    unsigned long line; /**< of the file */
    int year;
    unsigned month, day; /**< from 1 */
    unsigned fluid;      /**< liquid of the line file */
    dregs_purchase_kind kind;
    double volume; /**< m3 */
    double sd;     /**< m3, one standard deviation; NaN where the row states none */
    int by_mass;   /**< 1: stated as a mass, divided by the density that was handed in */
    double assay;  /**< share of the solvent by mass in what was disposed, 0..1; NaN: not stated */
    const char *supplier, *invoice, *note; /**< as written; "" for none */
} dregs_purchase;

typedef struct dregs_purchases dregs_purchases;

enum { DREGS_PURCHASE_ROWS = 200000, DREGS_PURCHASE_BYTES = 64 * 1024 * 1024 };

/** Reads the text of a file of purchases.
 *  \param name     what the file is called in messages.
 *  \param line     whose liquids the rows name; not kept.
 *  \param density  kg/m3 of each liquid of the line at 20 degC, for rows that state a mass; NaN
 *                  where it is not known. NULL: none is known.
 *  \param faults   every fault, with its line; may be NULL.
 *  \return DREGS_OK, DREGS_BAD_DATA, DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_purchases_parse(const char *name, const char *bytes, size_t length,
                                             const dregs_line *line, const double *density,
                                             dregs_purchases **purchases, dregs_faults *faults);

/** Reads them from an open stream until its end: a FILE *, passed as void * so that this header
 *  needs no stdio.h. Rows are read as they come; memory grows with the rows, not with the text.
 *  \return as dregs_purchases_parse, and DREGS_IO. */
DREGS_API dregs_status dregs_purchases_read(const char *name, void *stream, const dregs_line *line,
                                            const double *density, dregs_purchases **purchases,
                                            dregs_faults *faults);

DREGS_API void dregs_purchases_free(dregs_purchases *purchases);

/** How the cells of the file are written. */
DREGS_API dregs_dialect dregs_purchases_dialect(const dregs_purchases *purchases);

/** Row \p index (0, 1, ... in the order of the days) or NULL past the end. */
DREGS_API const dregs_purchase *dregs_purchases_at(const dregs_purchases *purchases, size_t index);

/** Pair \p index (0, 1, ...) of rows that are the same in day, liquid, kind and quantity: two
 *  deliveries or one entered twice, which the file cannot tell. Both count.
 *  \param lines  receives the lines of both. \return 1, or 0 past the end. */
DREGS_API int dregs_purchases_same(const dregs_purchases *purchases, size_t index,
                                   unsigned long lines[2]);

/** A row whose quantity is far from those before and behind it of the same liquid and kind, five
 *  times the larger or a fifth of the smaller, as a point in the wrong place makes it (at an end of
 *  the file: from the two next to it). It counts as it is written. Counts of stock are not judged.
 */
typedef struct dregs_purchase_odd {
    unsigned long line, neighbour[2]; /**< of the file */
    double times; /**< of the neighbour that is nearer: 5 and above, or 1/5 and below */
} dregs_purchase_odd;
/** \param index  0, 1, ... in the order of the lines. \return 1, or 0 past the end. */
DREGS_API int dregs_purchases_odd(const dregs_purchases *purchases, size_t index,
                                  dregs_purchase_odd *odd);

/** Months of a year that the rows cover without one of this liquid, of whatever kind: bit 0 is
 *  January. \return 0 where there is none, or no row reaches the year. */
DREGS_API unsigned dregs_purchases_silent(const dregs_purchases *purchases, unsigned fluid,
                                          int year);

/** The year to look at: the latest one that the rows cover from January to December, else the
 *  latest one that has a row.
 *  \param full  receives 1 or 0; may be NULL. */
DREGS_API int dregs_purchases_year(const dregs_purchases *purchases, int *full);

/** The months of a year that the rows cover: from that of the file's first row, or January when it
 *  is of an earlier year, to that of its last row, or December when it is of a later one.
 *  \return 1; 0 when the year lies before or behind all rows. */
DREGS_API int dregs_purchases_covered(const dregs_purchases *purchases, int year, unsigned *first,
                                      unsigned *last);

/** A sum of rows. */
typedef struct dregs_purchase_sum {
    double volume;   /**< m3 */
    double sd;       /**< m3, of the rows that state a spread, as independent; 0 where none does */
    unsigned rows;   /**< how many */
    unsigned silent; /**< how many of them state no spread */
    double largest;  /**< m3, the largest of them */
} dregs_purchase_sum;

/** Sums the rows of a liquid and kind in the months \p first to \p last (1..12) of a year.
 *  \return DREGS_OK; DREGS_DOMAIN (months that are none, a kind that is none). */
DREGS_API dregs_status dregs_purchases_sum(const dregs_purchases *purchases, unsigned fluid,
                                           dregs_purchase_kind kind, int year, unsigned first,
                                           unsigned last, dregs_purchase_sum *sum);

enum { DREGS_PURCHASE_STOCK_DAYS = 14 };

/** What was counted at the turn of a year, or of a month. */
typedef struct dregs_purchase_stock {
    dregs_purchase_sum sum; /**< of the rows of that day: there may be several stores */
    int year;               /**< the day of the count */
    unsigned month, day;
    int days;           /**< from the turn; 0 on the last day before it and the first one after */
    unsigned long line; /**< of the first of the rows */
} dregs_purchase_stock;

/** The stock of a liquid at the turn before \p year: the count of the day nearest it, at most
 *  DREGS_PURCHASE_STOCK_DAYS off, of two equally near the earlier.
 *  \return 1; 0 where none was counted. */
DREGS_API int dregs_purchases_stock(const dregs_purchases *purchases, unsigned fluid, int year,
                                    dregs_purchase_stock *stock);

enum { DREGS_PURCHASE_TURN_DAYS = 7 };

/** The same at the turn before a month, at most DREGS_PURCHASE_TURN_DAYS off.
 *  \param month  1..12.
 *  \return 1; 0 where none was counted, or the month is none. */
DREGS_API int dregs_purchases_stock_before(const dregs_purchases *purchases, unsigned fluid,
                                           int year, unsigned month, dregs_purchase_stock *stock);

/** A count of stock that is more than the count before it and all that was bought and recovered
 *  since. */
typedef struct dregs_purchase_unfit {
    unsigned long line, before; /**< of the file: the first row of this count, of the one before */
    double counted, most;       /**< m3 */
} dregs_purchase_unfit;
/** The first one of a liquid, beyond two standard deviations of the spreads that the rows state.
 *  \return 1, or 0 where all counts fit. */
DREGS_API int dregs_purchases_unfit(const dregs_purchases *purchases, unsigned fluid,
                                    dregs_purchase_unfit *unfit);

/** The first month that stands twice: each of its rows is one of two or more that are the same in
 *  day, liquid, kind and quantity, an even number of each, and two or more of these differ. A month
 *  that is entered twice makes that; two deliveries that are alike do not.
 *  \param lines  receives the lines of the first two that are the same.
 *  \return 1, or 0 where there is none. */
DREGS_API int dregs_purchases_doubled(const dregs_purchases *purchases, unsigned long lines[2]);

/** What measurement and model do not agree on. m3 all. */
typedef struct dregs_unexplained {
    double value;       /**< measured - modelled */
    double sd_measured; /**< of the rows; NaN where not stated */
    double sd_stock;    /**< of what stood unused at both ends; NaN without a lot */
    double sd_model;    /**< of the model; NaN where not stated */
    double sd;          /**< all that are stated together; NaN where none is */
    double ratio;       /**< |value| / sd; NaN where sd is not above 0 */
} dregs_unexplained;

/** Works it out. The standard deviations are taken as independent. What stands unused at each end
 * of the time is taken to be anything from nothing to one lot (a delivery, or a collection of
 * waste), evenly: the difference of the two has a standard deviation of lot / sqrt(6), exact for
 * that assumption. \param measured, modelled  m3, finite; may be negative. \param sd_measured  m3,
 * >= 0; NaN where not stated. Likewise sd_model and lot. \return DREGS_OK, DREGS_DOMAIN. */
DREGS_API dregs_status dregs_unexplained_work(double measured, double sd_measured, double lot,
                                              double modelled, double sd_model,
                                              dregs_unexplained *result);

#ifdef __cplusplus
}
#endif
#endif
