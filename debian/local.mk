# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# The Debian packages, native ones: the release archive is their source.
EXTRA_DIST += \
	debian/changelog \
	debian/control \
	debian/copyright \
	debian/dregs.install \
	debian/dregs.manpages \
	debian/libdregs-dev.install \
	debian/libdregs-dev.manpages \
	debian/libdregs0.install \
	debian/libdregs0.symbols \
	debian/rules \
	debian/source/format \
	debian/tests/control \
	debian/tests/library \
	debian/tests/tools

EXTRA_DIST += tests/chroot.sh tests/debian.sh tests/newcomer.sh

# in bare systems, by hand: it takes root, the network and some minutes for each suite
DEBIAN_SUITES = bookworm trixie
MIRROR =
CLEANFILES += chroots/*.tar
.PHONY: debian-check newcomer
# built, looked over, installed, tested and removed
debian-check: dist
	for suite in $(DEBIAN_SUITES); do \
		$(SHELL) $(srcdir)/tests/debian.sh $(distdir).tar.xz $$suite chroots $(MIRROR) || exit 1; done
# from `git clone` to the first own result, counted in commands and seconds
newcomer:
	for suite in $(DEBIAN_SUITES); do \
		$(SHELL) $(srcdir)/tests/newcomer.sh $(top_srcdir) $$suite chroots $(MIRROR) || exit 1; done
