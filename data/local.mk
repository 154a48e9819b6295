# The built-in property data, and scenarios of invented lines.
dist_pkgdata_DATA = data/liquids.csv data/aqueous-line.csv data/solvent-bench.csv
