# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# make bench: speed beside the same model in NumPy and beside awk, side by side in one run.
# BENCH_ROWS=1000000 makes its log shorter. BENCH_OUT=FILE adds its figures to a file,
# BENCH_KEPT=FILE says which are others than there.
EXTRA_PROGRAMS += bench-march bench-size bench-dry bench-readings bench-tally bench-ensemble bench-points bench-growth
bench_march_SOURCES = bench/march.c bench/clock.h
bench_march_LDADD = libdregs.la $(GSL_LIBS) $(CSV_LIBS) -lm

CLEANFILES += bench.csv bench-march bench-size bench-dry bench-readings bench-tally bench-ensemble bench-points bench-growth
EXTRA_DIST += bench/run.sh bench/compare.sh bench/peer.py bench/size_peer.py bench/dry_peer.py bench/tally_peer.py bench/ensemble_peer.py bench/bench-line.csv
bench_size_SOURCES = bench/size.c bench/clock.h
bench_size_LDADD = libdregs.la $(GSL_LIBS) $(NLOPT_LIBS) $(CSV_LIBS) -lm
bench_dry_SOURCES = bench/dry.c bench/clock.h
bench_dry_LDADD = libdregs.la $(GSL_LIBS) $(NLOPT_LIBS) $(CSV_LIBS) -lm
bench_ensemble_SOURCES = bench/ensemble.c bench/clock.h
bench_ensemble_LDADD = libdregs.la $(GSL_LIBS) $(NLOPT_LIBS) $(CSV_LIBS) -lm
bench_points_SOURCES = bench/points.c bench/clock.h
bench_points_LDADD = libdregs.la $(GSL_LIBS) $(NLOPT_LIBS) $(CSV_LIBS) -lm
bench_tally_SOURCES = bench/tally.c bench/clock.h
bench_tally_LDADD = libdregs.la $(GSL_LIBS) $(NLOPT_LIBS) $(CSV_LIBS) -lm
bench_readings_SOURCES = bench/readings.c bench/clock.h
bench_readings_LDADD = libdregs.la $(GSL_LIBS) $(NLOPT_LIBS) $(CSV_LIBS) -lm

bench_growth_SOURCES = bench/growth.c bench/clock.h
bench_growth_LDADD = libdregs.la $(GSL_LIBS) $(NLOPT_LIBS) $(CSV_LIBS) -lm

# what the time of each question grows with, beside what dregs-model(7) states
.PHONY: bench growth
growth: all bench-growth
	./bench-growth

bench: all bench-march bench-size bench-dry bench-readings bench-tally bench-ensemble
	BENCH_CC='$(CC)' BENCH_KEPT='$(BENCH_KEPT)' BENCH_OUT='$(BENCH_OUT)' \
		$(SHELL) $(srcdir)/bench/run.sh $(srcdir) .
