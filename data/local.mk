# The built-in property data, and scenarios of invented lines.
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
dist_pkgdata_DATA = $(scenarios) \
	data/dregs-report.schema.json \
	data/liquids.csv \
	data/mixtures.csv \
	data/regulations.csv
