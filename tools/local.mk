# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# One program, dregs, of which each tool is a verb, over a small front that all share.
bin_PROGRAMS += dregs
dregs_SOURCES = tools/dregs.c tools/verbs.h \
	tools/front.c tools/front.h tools/files.c tools/help.c tools/publish.c tools/publish.h \
	tools/config.c tools/config.h tools/doubt.c tools/doubt.h tools/parts.c tools/parts.h tools/each.c tools/each.h \
	tools/beaker.c tools/check.c tools/complete.c tools/dry.c tools/example.c tools/liquid.c tools/new.c tools/predict.c tools/reuse.c \
	tools/size.c tools/tally.c tools/texts.h
# the scenarios and templates of data/, compiled in
nodist_dregs_SOURCES = tools/texts.c
EXTRA_DIST += tools/texts.sh
CLEANFILES += tools/texts.c
tools/texts.c: $(top_srcdir)/tools/texts.sh $(scenarios) $(templates)
	$(AM_V_GEN)$(MKDIR_P) tools && cd $(top_srcdir) && \
		$(SHELL) tools/texts.sh $(scenarios) $(templates) >$(abs_top_builddir)/$@-t && \
		mv $(abs_top_builddir)/$@-t $(abs_top_builddir)/$@
# the library as others see it
dregs_LDADD = libdregs.la -lm
dregs_LDFLAGS = $(AM_LDFLAGS) $(TOOL_RPATH)

# Each tool by its own name: a link when installed. In the build tree a script that tells it the name,
# and goes past the script of libtool, which starts ten processes before the program: the tests call
# tools some thousand times.
tool_links = dregs-beaker dregs-dry dregs-liquid dregs-predict dregs-reuse dregs-size dregs-tally
noinst_SCRIPTS = $(tool_links)
CLEANFILES += $(tool_links)
$(tool_links): $(top_srcdir)/tools/local.mk
	$(AM_V_GEN){ printf '#!/bin/sh\nhere=$${0%%/*}\n' && \
		printf '[ -x "$$here/.libs/dregs" ] || exec "$$here/dregs" %s "$$@"\n' $@ && \
		printf 'LD_LIBRARY_PATH=$$here/.libs$${LD_LIBRARY_PATH:+:$$LD_LIBRARY_PATH}\n' && \
		printf 'export LD_LIBRARY_PATH\nexec "$$here/.libs/dregs" %s "$$@"\n' $@; } >$@-t && \
		chmod +x $@-t && mv $@-t $@
install-exec-hook:
	cd $(DESTDIR)$(bindir) && for link in $(tool_links); do \
		rm -f $$link && $(LN_S) dregs $$link || exit 1; done
uninstall-hook:
	for link in $(tool_links); do \
		rm -f '$(DESTDIR)$(bindir)'/$$link '$(DESTDIR)$(bashcompletiondir)'/$$link \
			'$(DESTDIR)$(fishcompletiondir)'/$$link.fish; done
# the installed tools run as they are; `make distcheck` asks for it
installcheck-local:
	unset LD_LIBRARY_PATH; '$(DESTDIR)$(bindir)/dregs' predict --draws 0 \
		'$(DESTDIR)$(pkgdatadir)/aqueous-line.csv' >/dev/null
	unset LD_LIBRARY_PATH; '$(DESTDIR)$(bindir)/dregs-liquid' water >/dev/null

# Completions, made by the program from its tables of options.
bashcompletiondir = $(datadir)/bash-completion/completions
zshcompletiondir = $(datadir)/zsh/site-functions
fishcompletiondir = $(datadir)/fish/vendor_completions.d
bashcompletion_DATA = completions/dregs
zshcompletion_DATA = completions/_dregs
fishcompletion_DATA = completions/dregs.fish
CLEANFILES += completions/dregs completions/_dregs completions/dregs.fish
completions/dregs: dregs$(EXEEXT)
	$(AM_V_GEN)$(MKDIR_P) completions && ./dregs complete bash >$@-t && mv $@-t $@
completions/_dregs: dregs$(EXEEXT)
	$(AM_V_GEN)$(MKDIR_P) completions && ./dregs complete zsh >$@-t && mv $@-t $@
completions/dregs.fish: dregs$(EXEEXT)
	$(AM_V_GEN)$(MKDIR_P) completions && ./dregs complete fish >$@-t && mv $@-t $@
# bash and fish look for them by the name of the command
install-data-hook:
	cd $(DESTDIR)$(bashcompletiondir) && for link in $(tool_links); do \
		rm -f $$link && $(LN_S) dregs $$link || exit 1; done
	cd $(DESTDIR)$(fishcompletiondir) && for link in $(tool_links); do \
		rm -f $$link.fish && $(LN_S) dregs.fish $$link.fish || exit 1; done
