# The tools: a small front that all share, and a program per verb.
noinst_LTLIBRARIES += libfront.la
libfront_la_SOURCES = tools/explain.c tools/explain.h tools/front.c tools/front.h tools/json.c tools/json.h tools/page.c \
	tools/page.h

bin_PROGRAMS += dregs-predict
dregs_predict_SOURCES = tools/predict.c
dregs_predict_LDADD = libfront.la libdregs.la $(GSL_LIBS) $(JANSSON_LIBS) $(CSV_LIBS) -lm

bin_PROGRAMS += dregs-size
dregs_size_SOURCES = tools/size.c
dregs_size_LDADD = libfront.la libdregs.la $(GSL_LIBS) $(JANSSON_LIBS) $(CSV_LIBS) -lm

bin_PROGRAMS += dregs-liquid
dregs_liquid_SOURCES = tools/liquid.c
dregs_liquid_LDADD = libfront.la libdregs.la $(GSL_LIBS) $(JANSSON_LIBS) $(CSV_LIBS) -lm

bin_PROGRAMS += dregs-dry
dregs_dry_SOURCES = tools/dry.c
dregs_dry_LDADD = libfront.la libdregs.la $(GSL_LIBS) $(JANSSON_LIBS) $(CSV_LIBS) -lm

bin_PROGRAMS += dregs-tally
dregs_tally_SOURCES = tools/tally.c
dregs_tally_LDADD = libfront.la libdregs.la $(GSL_LIBS) $(JANSSON_LIBS) $(CSV_LIBS) -lm

bin_PROGRAMS += dregs-reuse
dregs_reuse_SOURCES = tools/reuse.c
dregs_reuse_LDADD = libfront.la libdregs.la $(GSL_LIBS) $(JANSSON_LIBS) $(CSV_LIBS) -lm
