# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# libdregs: a folder per module, lowest layer first.
pkgconfigdir = $(libdir)/pkgconfig
pkgconfig_DATA += lib/libdregs.pc

pkginclude_HEADERS = \
	lib/include/dregs/answer_beaker.h \
	lib/include/dregs/answer_check.h \
	lib/include/dregs/answer_compare.h \
	lib/include/dregs/answer_dry.h \
	lib/include/dregs/answer_hangs.h \
	lib/include/dregs/answer_liquid.h \
	lib/include/dregs/answer_predict.h \
	lib/include/dregs/answer_reuse.h \
	lib/include/dregs/answer_size.h \
	lib/include/dregs/answer_tally.h \
	lib/include/dregs/ask.h \
	lib/include/dregs/balance.h \
	lib/include/dregs/bound.h \
	lib/include/dregs/calendar.h \
	lib/include/dregs/caution.h \
	lib/include/dregs/config.h \
	lib/include/dregs/csv.h \
	lib/include/dregs/dregs.h \
	lib/include/dregs/dry.h \
	lib/include/dregs/edit.h \
	lib/include/dregs/ensemble.h \
	lib/include/dregs/evaporation.h \
	lib/include/dregs/film.h \
	lib/include/dregs/gsl.h \
	lib/include/dregs/law.h \
	lib/include/dregs/limits.h \
	lib/include/dregs/line.h \
	lib/include/dregs/liquid.h \
	lib/include/dregs/meter.h \
	lib/include/dregs/mixture.h \
	lib/include/dregs/number.h \
	lib/include/dregs/page.h \
	lib/include/dregs/purchase.h \
	lib/include/dregs/readings.h \
	lib/include/dregs/report.h \
	lib/include/dregs/residue.h \
	lib/include/dregs/reuse.h \
	lib/include/dregs/size.h \
	lib/include/dregs/stage.h \
	lib/include/dregs/status.h \
	lib/include/dregs/stream.h \
	lib/include/dregs/tally.h \
	lib/include/dregs/time.h \
	lib/include/dregs/unit.h \
	lib/include/dregs/use.h \
	lib/include/dregs/version.h \
	lib/include/dregs/warm.h \
	lib/include/dregs/week.h

# the objects once, for the library and for the tests, which see the hidden functions too
noinst_LTLIBRARIES += libdregs-inside.la
libdregs_inside_la_SOURCES = \
	lib/base/cell.c lib/base/config.c lib/base/csv.c lib/base/decimal.c lib/base/decimal.h lib/base/fault.c \
	lib/base/gathered.c lib/base/gathered.h lib/base/grow.c lib/base/grow.h lib/base/gsl.c lib/base/multiple.c lib/base/multiple.h \
	lib/base/number.c lib/base/pool.c lib/base/pool.h lib/base/ode.c lib/base/ode.h \
	lib/base/root.c lib/base/root.h lib/base/sheet.c lib/base/sheet.h lib/base/text.c \
	lib/base/text.h lib/base/time.c lib/base/time.h lib/base/unit.c lib/base/version.c \
	lib/report/bars.c lib/report/chart.c lib/report/csv.c lib/report/digest.c \
	lib/report/draw.c lib/report/html.c lib/report/inside.h lib/report/json.c \
	lib/report/form.c lib/report/out.c lib/report/plot.h lib/report/report.c \
	lib/report/scale.c lib/report/stages.c lib/report/svg.c lib/report/svg.h \
	lib/report/table.c lib/report/text.c lib/report/units.c lib/report/wide.c lib/report/working.c lib/report/widths.c \
	lib/report/xy.c lib/liquid/builtin.h lib/liquid/equations.c lib/liquid/equations.h \
	lib/liquid/extend.c lib/liquid/formula.c lib/liquid/inside.h lib/liquid/liquid.c \
	lib/liquid/mixture.c lib/liquid/mixture.h lib/liquid/mixture_flash.c \
	lib/liquid/mixture_read.c lib/liquid/names.c lib/liquid/off.c lib/liquid/regulation.c \
	lib/limits/limits.c lib/film/film.c lib/dry/complete.c lib/dry/dry.h lib/dry/drying.c \
	lib/dry/humid.c lib/dry/loads.c lib/dry/stream.c lib/dry/transfer.c lib/dry/trapped.c \
	lib/evaporation/evaporation.c lib/evaporation/uptake.c lib/warm/warm.c \
	lib/meter/calibration.c lib/meter/electrolyte.c lib/meter/range.c lib/meter/range.h \
	lib/meter/standard.c lib/meter/standard.h lib/meter/water.c lib/line/alike.c \
	lib/line/carried.c lib/line/change.c lib/line/check.c lib/line/check.h \
	lib/line/currency.c lib/line/doubt.c lib/line/drying.c lib/line/edit.c \
	lib/line/evaporate.c lib/line/form.c lib/line/grammar.c lib/line/ideal.c \
	lib/line/inside.h lib/line/items.c lib/line/join.c lib/line/limits.c lib/line/line.c \
	lib/line/line.h lib/line/loads.c lib/line/place.c lib/line/read.c lib/line/read.h \
	lib/line/room.c lib/line/rows.c lib/line/sequence.c lib/line/stream.c lib/line/taken.c \
	lib/line/trapped.c lib/line/uptake.c lib/line/values.c lib/line/volumes.c \
	lib/line/warming.c lib/line/words.c lib/line/stage/dry.c lib/line/stage/immersion.c \
	lib/line/stage/rinse.c lib/line/stage/shared.h lib/line/stage/spray.c \
	lib/line/stage/stage.c lib/line/stage/stage.h lib/line/stage/wash.c \
	lib/balance/advance.c lib/balance/balance.h lib/balance/consumption.c \
	lib/balance/dump.c lib/balance/interval.c lib/balance/leap.c lib/balance/ledger.c \
	lib/balance/load_map.c lib/balance/map.c lib/balance/map.h lib/balance/matrix.c \
	lib/balance/pass.c lib/balance/scatter.c lib/balance/state.c lib/balance/steady.c \
	lib/calendar/assumed.c lib/calendar/calendar.c lib/calendar/calendar.h \
	lib/calendar/dates.c lib/calendar/march.c lib/calendar/table.c lib/calendar/table.h \
	lib/residue/bound.c lib/residue/bound.h lib/residue/bound_scan.c \
	lib/residue/bound_week.c lib/residue/capacity.c lib/residue/conductivity.c \
	lib/residue/grid.c lib/residue/grid.h lib/residue/nodes.c lib/residue/peak.c \
	lib/residue/residue.c lib/residue/residue.h lib/residue/scatter.c lib/residue/week.c \
	lib/residue/worst.c lib/ensemble/bins.c lib/ensemble/count.c \
	lib/ensemble/distribution.c lib/ensemble/ensemble.c lib/ensemble/ensemble.h \
	lib/ensemble/exact.c lib/ensemble/inside.h lib/ensemble/part.c lib/ensemble/run.c \
	lib/ensemble/shares.c lib/ensemble/stream.c lib/ensemble/threads.c lib/ensemble/usual.c lib/caution/caution.c \
	lib/caution/drying.c lib/caution/exposure.c lib/caution/facts.c lib/caution/fill.c \
	lib/caution/plausible.c lib/caution/rules.c lib/caution/rules.h lib/caution/uptake.c \
	lib/caution/warming.c lib/tally/inside.h lib/tally/join.c lib/tally/sums.c \
	lib/tally/tally.c lib/tally/year.c lib/readings/cells.c lib/readings/order.c \
	lib/readings/readings.c lib/readings/readings.h lib/readings/slips.c \
	lib/readings/weighing.c lib/reuse/altered.c lib/reuse/censored.c lib/reuse/doubt.c \
	lib/reuse/fit.c lib/reuse/fresh.c lib/reuse/inside.h lib/reuse/noise.c \
	lib/reuse/outlook.c lib/reuse/prior.c lib/reuse/reach.c lib/reuse/regime.c \
	lib/reuse/replay.c lib/reuse/reuse.c lib/reuse/run.c lib/reuse/run.h lib/reuse/shown.c \
	lib/reuse/stopped.c lib/reuse/wander.c lib/size/doubt.c lib/size/size.h lib/size/heap.c \
	lib/size/heap.h lib/size/inside.h lib/size/judge.c lib/size/layout.c lib/size/one.c \
	lib/size/proof.c lib/size/rule.c lib/size/several.c lib/size/several.h lib/size/size.c \
	lib/size/sized.c lib/size/sure.c lib/size/varied.c lib/size/whole.c lib/law/air.c lib/law/law.c \
	lib/purchase/compare.c lib/purchase/purchase.c lib/purchase/purchase.h \
	lib/purchase/record.c lib/answer/beaker.c lib/answer/beaker.h lib/answer/beaker_given.c \
	lib/answer/beaker_heat.c lib/answer/beaker_line.c lib/answer/beaker_rinse.c \
	lib/answer/cautions.c lib/answer/check.c lib/answer/compare.c lib/answer/draws.c \
	lib/answer/draws.h lib/answer/compare_doubt.c lib/answer/dry.c lib/answer/dry.h \
	lib/answer/dry_case.c lib/answer/dry_doubt.c lib/answer/dry_extended.c \
	lib/answer/dry_line.c lib/answer/dry_time.c lib/answer/dry_vapour.c lib/answer/hangs.c \
	lib/answer/hangs.h lib/answer/hangs_doubt.c lib/answer/inside.h lib/answer/less_mixed.c \
	lib/answer/liquid.c lib/answer/liquid_curve.c lib/answer/predict.c lib/answer/predict.h \
	lib/answer/predict_doubt.c lib/answer/predict_history.c lib/answer/reuse.c \
	lib/answer/size.c lib/answer/size_curve.c lib/answer/size.h lib/answer/size_regime.c \
	lib/answer/size_sure.c lib/answer/stopped.c lib/answer/tally.h \
	lib/answer/tally_actual.c lib/answer/tally_answer.c lib/answer/tally_change.c \
	lib/answer/tally_doubt.c lib/answer/tally_cells.c lib/answer/tally_asked.c lib/answer/tally_figures.c \
	lib/answer/tally_given.c lib/answer/tally_law.c lib/answer/tally_log.c lib/answer/tally_machine.c \
	lib/answer/tally_drain.c lib/answer/tally_energy.c lib/answer/tally_instead.c lib/answer/tally_loose.c \
	lib/answer/tally_head.c lib/answer/tally_parts.c lib/answer/tally_plan.c \
	lib/answer/tally_site.c lib/answer/tally_record.c lib/answer/tally_solvents.c \
	lib/answer/tally_spread.c lib/answer/tally_streams.c lib/answer/tally_waste.c \
	lib/answer/vary.c lib/page/beaker.c lib/page/bounds.c lib/page/bounds.h \
	lib/page/draws.c lib/page/check.c lib/page/compare.c lib/page/dry.c lib/page/dry.h \
	lib/page/dry_data.c lib/page/dry_doubt.c lib/page/dry_pictures.c lib/page/dry_room.c \
	lib/page/dry_working.c lib/page/inside.h lib/page/line_pictures.c lib/page/liquid.c \
	lib/page/liquid.h lib/page/liquid_data.c lib/page/liquid_pictures.c lib/page/page.c \
	lib/page/predict.c lib/page/predict.h lib/page/predict_bounds.c lib/page/predict_data.c \
	lib/page/predict_doubt.c lib/page/predict_first.c lib/page/predict_doubt_pictures.c \
	lib/page/predict_limit_pictures.c lib/page/predict_hangs.c lib/page/predict_kinds.c \
	lib/page/predict_mixing.c lib/page/predict_pictures.c lib/page/predict_week.c \
	lib/page/predict_working.c lib/page/reuse.c lib/page/reuse.h lib/page/reuse_card.c \
	lib/page/reuse_data.c lib/page/reuse_parts.c lib/page/reuse_pictures.c \
	lib/page/reuse_words.c lib/page/reuse_working.c lib/page/size.c lib/page/size.h \
	lib/page/size_doubt.c lib/page/size_more.c lib/page/size_pictures.c \
	lib/page/size_trade_off_picture.c lib/page/stopped.c lib/page/tally.c lib/page/tally.h \
	lib/page/tally_actual.c lib/page/tally_clearing.c lib/page/tally_csv.c \
	lib/page/tally_data.c lib/page/tally_doubt.c lib/page/tally_kinds.c \
	lib/page/tally_law.c lib/page/tally_law.h lib/page/tally_law_air.c \
	lib/page/tally_law_data.c lib/page/tally_law_working.c lib/page/tally_pictures.c \
	lib/page/tally_streams.c lib/page/tally_working.c lib/page/tally_records.c \
	lib/page/tally_drain.c lib/page/tally_energy.c lib/page/tally_instead.c \
	lib/page/tally_recorded.c lib/page/tally_log.c lib/page/tally_lines.c lib/page/tally_form.c lib/page/warm.c \
	lib/ask/ask.c lib/ask/asked.c lib/ask/check.c lib/ask/dry.c lib/ask/inside.h \
	lib/ask/job.h lib/ask/predict.c lib/ask/request.c lib/ask/reuse.c lib/ask/size.c \
	lib/ask/tally.c
nodist_libdregs_inside_la_SOURCES = $(builtins)
libdregs_inside_la_CFLAGS = $(AM_CFLAGS) $(JANSSON_CFLAGS) $(NETTLE_CFLAGS) -fvisibility=hidden
libdregs_inside_la_LIBADD = $(GSL_LIBS) $(NLOPT_LIBS) $(JANSSON_LIBS) $(CSV_LIBS) $(NETTLE_LIBS) -lm -lpthread

lib_LTLIBRARIES += libdregs.la
libdregs_la_SOURCES =
libdregs_la_LIBADD = libdregs-inside.la
# current:revision:age, see the libtool manual: raise current when the interface changes
libdregs_la_LDFLAGS = $(AM_LDFLAGS) $(SYMBOL_VERSIONS) -version-info 0:0:0 -no-undefined
EXTRA_libdregs_la_DEPENDENCIES = lib/libdregs.map
EXTRA_DIST += lib/libdregs.map

builtins = lib/liquid/builtin.c lib/liquid/builtin_regulations.c lib/liquid/builtin_mixtures.c
BUILT_SOURCES += $(builtins)
CLEANFILES += $(builtins)
EXTRA_DIST += lib/liquid/embed.sh
embed = $(AM_V_GEN)$(MKDIR_P) lib/liquid && $(SHELL) $(top_srcdir)/lib/liquid/embed.sh
lib/liquid/builtin.c: data/liquids.csv lib/liquid/embed.sh
	$(embed) $(top_srcdir)/data/liquids.csv dregs_liquids_builtin > $@.tmp && mv $@.tmp $@
lib/liquid/builtin_regulations.c: data/regulations.csv lib/liquid/embed.sh
	$(embed) $(top_srcdir)/data/regulations.csv dregs_regulations_builtin > $@.tmp && \
	mv $@.tmp $@
lib/liquid/builtin_mixtures.c: data/mixtures.csv lib/liquid/embed.sh
	$(embed) $(top_srcdir)/data/mixtures.csv dregs_mixtures_builtin > $@.tmp && mv $@.tmp $@
