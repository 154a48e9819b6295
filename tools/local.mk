# The tools: a small front that all share, and a program per verb.
noinst_LTLIBRARIES += libfront.la
libfront_la_SOURCES = tools/front.c tools/front.h tools/files.c tools/publish.c tools/publish.h

# the library as others see it; GSL for its error handler, which the front turns off
tool_ldadd = libfront.la libdregs.la $(GSL_LIBS)

bin_PROGRAMS += dregs-predict
dregs_predict_SOURCES = tools/predict.c tools/doubt.c tools/doubt.h tools/parts.c tools/parts.h \
	tools/each.c tools/each.h
dregs_predict_LDADD = $(tool_ldadd)

bin_PROGRAMS += dregs-size
dregs_size_SOURCES = tools/size.c tools/doubt.c tools/doubt.h
dregs_size_LDADD = $(tool_ldadd)

bin_PROGRAMS += dregs-dry
dregs_dry_SOURCES = tools/dry.c tools/doubt.c tools/doubt.h
dregs_dry_LDADD = $(tool_ldadd)

bin_PROGRAMS += dregs-reuse
dregs_reuse_SOURCES = tools/reuse.c
dregs_reuse_LDADD = $(tool_ldadd)

bin_PROGRAMS += dregs-tally
dregs_tally_SOURCES = tools/tally.c tools/doubt.c tools/doubt.h
dregs_tally_LDADD = $(tool_ldadd)

bin_PROGRAMS += dregs-liquid
dregs_liquid_SOURCES = tools/liquid.c
dregs_liquid_LDADD = $(tool_ldadd)

bin_PROGRAMS += dregs-beaker
dregs_beaker_SOURCES = tools/beaker.c tools/doubt.c tools/doubt.h
dregs_beaker_LDADD = $(tool_ldadd)
