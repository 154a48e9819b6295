# The built-in property data, and scenarios of invented lines.
dist_pkgdata_DATA = data/liquids.csv data/mixtures.csv data/regulations.csv data/aqueous-line.csv data/solvent-bench.csv data/rinse-bench.csv data/rinse-readings.csv data/stopped-flow.csv
