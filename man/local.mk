# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# Manual pages, written by hand in mdoc.
dist_man_MANS += \
	man/dregs.1 man/dregs-beaker.1 man/dregs-calendar.5 man/dregs-cautions.7 \
	man/dregs-check.1 man/dregs-config.5 man/dregs-dry.1 man/dregs-ensemble.7 man/dregs-glossary.7 \
	man/dregs-json.7 man/dregs-line.5 man/dregs-liquid.1 man/dregs-liquids.5 \
	man/dregs-model.7 man/dregs-new.1 man/dregs-predict.1 man/dregs-purchases.5 \
	man/dregs-readings.5 man/dregs-report.5 man/dregs-reuse.1 man/dregs-size.1 \
	man/dregs-tally.1 man/dregs-tutorial.7 man/dregs-validation.7 man/libdregs.3 \
	man/libdregs-dry.3 man/libdregs-predict.3 man/libdregs-reuse.3 man/libdregs-size.3 \
	man/libdregs-tally.3

# What the headers declare for each tool, as a page: made anew by `make library-pages` and kept.
library_pages = dry predict reuse size tally
EXTRA_DIST += man/library.sh man/library
.PHONY: library-pages
library-pages:
	for page in $(library_pages); do \
		$(SHELL) $(top_srcdir)/man/library.sh $(top_srcdir) $$page >page.tmp && \
		mv page.tmp $(top_srcdir)/man/libdregs-$$page.3 || exit 1; done

# A picture of each kind is kept, as an example of what the tools draw: `make pictures` draws them
# anew. `make html` writes the pages with them to html/.
EXTRA_DIST += man/pictures.sh man/html.sh man/pictures
pictures: $(bin_PROGRAMS)
	$(SHELL) $(top_srcdir)/man/pictures.sh . $(top_srcdir) $(top_srcdir)/man/pictures
html-local:
	@test -n '$(MANDOC)' || { echo 'make html needs mandoc' >&2; exit 1; }
	$(SHELL) $(top_srcdir)/man/html.sh '$(MANDOC)' $(top_srcdir) html
clean-local:
	rm -rf html
.PHONY: pictures
