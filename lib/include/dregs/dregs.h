/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dregs.h: all of libdregs. */
#ifndef DREGS_DREGS_H
#define DREGS_DREGS_H

#include "dregs/answer_predict.h"
#include "dregs/answer_reuse.h"
#include "dregs/answer_size.h"
#include "dregs/answer_tally.h"
#include "dregs/balance.h"
#include "dregs/caution.h"
#include "dregs/csv.h"
#include "dregs/dry.h"
#include "dregs/edit.h"
#include "dregs/film.h"
#include "dregs/law.h"
#include "dregs/limits.h"
#include "dregs/line.h"
#include "dregs/liquid.h"
#include "dregs/meter.h"
#include "dregs/mixture.h"
#include "dregs/number.h"
#include "dregs/page.h"
#include "dregs/purchase.h"
#include "dregs/readings.h"
#include "dregs/report.h"
#include "dregs/residue.h"
#include "dregs/reuse.h"
#include "dregs/size.h"
#include "dregs/stage.h"
#include "dregs/status.h"
#include "dregs/stream.h"
#include "dregs/tally.h"
#include "dregs/time.h"
#include "dregs/unit.h"
#include "dregs/use.h"
#include "dregs/version.h"

#endif
