# Manual pages, written by hand in mdoc.
dist_man_MANS += \
	man/dregs-cautions.7 \
	man/dregs-dry.1 \
	man/dregs-ensemble.7 \
	man/dregs-line.5 \
	man/dregs-liquid.1 \
	man/dregs-liquids.5 \
	man/dregs-model.7 \
	man/dregs-predict.1 \
	man/dregs-purchases.5 \
	man/dregs-readings.5 \
	man/dregs-report.5 \
	man/dregs-reuse.1 \
	man/dregs-size.1 \
	man/dregs-tally.1 \
	man/dregs-validation.7 \
	man/libdregs.3
