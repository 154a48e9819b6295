# make bench: speed beside the same model in NumPy, side by side in one run.
EXTRA_PROGRAMS = bench-march
bench_march_SOURCES = bench/march.c
bench_march_LDADD = libdregs.la $(GSL_LIBS) $(CSV_LIBS) -lm

CLEANFILES += bench-march
EXTRA_DIST += bench/run.sh bench/peer.py bench/bench-line.csv

.PHONY: bench
bench: all bench-march
	$(SHELL) $(srcdir)/bench/run.sh $(srcdir) .
