# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# The built-in property data, scenarios of invented lines, and templates to begin with.
scenarios = \
	data/aqueous-line.csv \
	data/calendar-2027.csv \
	data/mixed-loads.csv \
	data/purchases.csv \
	data/rinse-bench.csv \
	data/rinse-readings.csv \
	data/solvent-bench.csv \
	data/solvent-readings.csv \
	data/solvent-shop.csv \
	data/stopped-flow.csv \
	data/week-rinse.csv
templates = \
	data/templates/aqueous-counterflow.csv \
	data/templates/isopropanol-beaker.csv \
	data/templates/plating-counterflow.csv \
	data/templates/running-rinse.csv \
	data/templates/solvent-still.csv
dist_pkgdata_DATA = $(scenarios) \
	data/dregs-faults.schema.json \
	data/dregs-report.schema.json \
	data/dregs-request.schema.json \
	data/liquids.csv \
	data/mixtures.csv \
	data/regulations.csv
templatesdir = $(pkgdatadir)/templates
dist_templates_DATA = $(templates)
