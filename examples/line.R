# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# The residue load by load in R, from the wide CSV of dregs predict.
#
#     Rscript line.R data/aqueous-line.csv residue.pdf
#
# Base R alone. This file is not run by the tests of dregs, which have no R; the CSV that it reads
# is tested.
arguments <- commandArgs(trailingOnly = TRUE)
if (length(arguments) != 2) stop("usage: line.R LINE PICTURE.pdf")

command <- paste("dregs predict --draws 0 --format csv --wide --loads 400 --every 4",
                 shQuote(arguments[1]))
# heads are words with blanks and units: check.names = FALSE keeps them
loads <- read.csv(pipe(command), check.names = FALSE)
loads <- loads[!is.na(loads$load), ]

pdf(arguments[2])
plot(loads$load, loads[["total residue [ug/cm2]"]], type = "l", log = "y",
     xlab = "load from the fresh start", ylab = "residue, ug/cm2")
invisible(dev.off())

# the ten loads that leave most
worst <- loads[order(-loads[["total residue [ug/cm2]"]]), c("load", "total residue [ug/cm2]")]
print(head(worst, 10), row.names = FALSE)
