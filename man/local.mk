# Manual pages, written by hand in mdoc.
dist_man_MANS += 
