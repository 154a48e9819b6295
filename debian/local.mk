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
