# turnlay: build, test, install. `make help` lists what there is.
PREFIX  ?= /usr/local
DESTDIR ?=
CC      ?= cc
BUILD   ?= build
CFLAGS  ?= -O2 -g
WARNINGS = -Wall -Wextra -Wconversion -Wshadow -Wstrict-prototypes
STDLIB   = $(PREFIX)/share/turnlay/stdlib
FLAGS    = -std=c17 -D_GNU_SOURCE -Isrc -I$(BUILD) -MMD -MP $(WARNINGS) $(CFLAGS)
LIBS     = -ljansson -lutf8proc -lm

# The bench sheet as a PDF needs pangocairo; where it is missing, or with `make PDF=no`, all else is built. It is written by
# a program of its own, turnlay-pdf, which turnlay calls: loading cairo and all it needs takes longer than compiling a rod.
PDF     := $(shell pkg-config --exists pangocairo 2>/dev/null && echo yes)
ifeq ($(PDF),yes)
PDF_FLAGS := $(shell pkg-config --cflags pangocairo)
PDF_LIBS  := $(shell pkg-config --libs pangocairo)
endif

# Debian packages: what each is for stands in DEVELOPERS.md.
BUILD_PACKAGES = gcc libc6-dev re2c bison libjansson-dev libutf8proc-dev pkg-config libpango1.0-dev
CHECK_PACKAGES = clang libcmocka-dev libgsl-dev liblcms2-dev python3 python3-jsonschema libxml2-utils librsvg2-bin locales valgrind poppler-utils fonts-dejavu-core
BROWSER_PACKAGES = chromium $(if $(shell command -v npm),,nodejs npm)

# Which folder a source lies in decides what it is linked into; whether a program writes PDF is decided by its objects alone.
FILES     := $(sort $(shell find src -name '*.c' -o -name '*.awk' -o -name '*.css' -o -name '*.js'))
object     = $(patsubst %.c,$(BUILD)/%.o,$(1))
GENERATED  = $(BUILD)/scanner.c $(BUILD)/parser.c $(BUILD)/explanations.c $(BUILD)/sheet_assets.c
OBJECTS    = $(call object,$(filter-out src/cli/% src/emit/pdf/%,$(filter %.c,$(FILES)))) $(GENERATED:.c=.o)
LIBRARY    = $(BUILD)/libturnlay.a
NO_PDF     = $(call object,src/cli/no_pdf.c)
CLI        = $(filter-out $(NO_PDF),$(call object,$(filter src/cli/%.c,$(FILES))))
PROGRAM    = $(BUILD)/turnlay
PDF_OBJECTS = $(if $(PDF_LIBS),$(call object,$(filter src/emit/pdf/%.c,$(FILES))))
PDF_PROGRAM = $(if $(PDF_LIBS),$(BUILD)/turnlay-pdf)
PDF_UNIT   = $(BUILD)/tests/test_sheet_pdf
UNIT       = $(filter-out $(if $(PDF_LIBS),,$(PDF_UNIT)),$(patsubst tests/unit/%.c,$(BUILD)/tests/%,$(wildcard tests/unit/test_*.c)))

.PHONY: all demo deps check bench bless install uninstall clean help
.DELETE_ON_ERROR:

all: $(PROGRAM) $(PDF_PROGRAM)
	@[ '$(PDF)' = yes ] || rm -f $(BUILD)/turnlay-pdf $(PDF_UNIT)
	@[ '$(PDF)' = yes ] || echo 'left out: bench sheets as PDF (pkg-config finds no pangocairo; make deps installs it)'

help:
	@echo 'make            build the program (build/turnlay); installs nothing'
	@echo 'make deps       install what building and testing need (Debian packages)'
	@echo 'make demo       compile examples/harbour.lay into out/ and print its schedule'
	@echo 'make check      all tests'
	@echo 'make bless      renew the golden files of the tests; read the difference before you commit it'
	@echo 'make bench      count instructions a byte, a run; apart from the tests'
	@echo 'make install PREFIX=/usr/local DESTDIR='

$(BUILD)/scanner.c: grammar/scanner.re
	@mkdir -p $(@D)
	re2c -W -Werror -b -i --no-generation-date -o $@ $<

$(BUILD)/parser.c $(BUILD)/parser.h &: grammar/parser.y
	@mkdir -p $(@D)
	bison -Wall -Wcounterexamples -Wdangling-alias -Werror --defines=$(BUILD)/parser.h -o $(BUILD)/parser.c $<

# The pages behind `turnlay explain`, as text in the program.
EXPLAIN_AWK = $(filter src/base/literal.awk src/check/%embed.awk,$(FILES))
FINDING_PAGES = $(sort $(wildcard grammar/findings/*.md))
$(BUILD)/explanations.c: $(EXPLAIN_AWK) $(FINDING_PAGES)
	@mkdir -p $(@D)
	awk $(EXPLAIN_AWK:%=-f %) $(FINDING_PAGES) > $@

# Style and script of the bench sheet's page, with the hashes that its content security policy names.
SHEET_AWK = $(filter src/base/literal.awk src/emit/%embed.awk,$(FILES))
SHEET_ASSETS = $(filter %.css %.js,$(FILES))
$(BUILD)/sheet_assets.c: $(SHEET_AWK) $(SHEET_ASSETS)
	@mkdir -p $(@D)
	sha256sum $(SHEET_ASSETS) | awk $(SHEET_AWK:%=-f %) - $(SHEET_ASSETS) > $@

$(BUILD)/%.o: %.c | $(BUILD)/parser.h
	@mkdir -p $(@D)
	$(CC) $(FLAGS) -c $< -o $@

$(BUILD)/%.o: $(BUILD)/%.c | $(BUILD)/parser.h
	$(CC) $(FLAGS) -c $< -o $@

$(BUILD)/src/cli/%.o: FLAGS += -DTURNLAY_STDLIB='"$(STDLIB)"'

$(LIBRARY): $(OBJECTS)
	rm -f $@
	ar rcsD $@ $^

$(BUILD)/src/emit/pdf/%.o $(PDF_UNIT).o: FLAGS += $(PDF_FLAGS)

$(PROGRAM): $(CLI) $(NO_PDF) $(LIBRARY)
	$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ $(LIBS)

$(BUILD)/turnlay-pdf: $(CLI) $(PDF_OBJECTS) $(LIBRARY)
	$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ $(LIBS) $(PDF_LIBS)

# The unit tests reach into every room: they link the objects of the house, not what is installed.
$(BUILD)/tests/%.o: tests/unit/%.c | $(BUILD)/parser.h
	@mkdir -p $(@D)
	$(CC) $(FLAGS) -c $< -o $@

$(BUILD)/tests/%: $(BUILD)/tests/%.o $(OBJECTS)
	$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ -lcmocka -lgsl -lgslcblas -llcms2 $(LIBS)

$(PDF_UNIT): $(PDF_UNIT).o $(PDF_OBJECTS) $(OBJECTS)
	$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ -lcmocka $(LIBS) $(PDF_LIBS)

# Installs packages only when asked by this target; says what and why; sudo only if not root. Without a browser the
# tests of the bench sheet's page are skipped, and say so, so that failing to install one is no error.
install_missing = missing=; for package in $(1); do \
	  dpkg-query -W -f '$${Status}' $$package 2>/dev/null | grep -q 'ok installed' || missing="$$missing $$package"; done; \
	if [ -n "$$missing" ]; then \
	  echo "deps: installing$$missing"; echo 'deps: needed $(2); DEVELOPERS.md has the reason for each'; \
	  as_root=; [ "$$(id -u)" = 0 ] || as_root=sudo; \
	  $$as_root apt-get update -qq && \
	  $$as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $$missing; fi

deps:
	@if ! command -v apt-get >/dev/null 2>&1; then \
	  echo 'This system has no apt-get. Install these with its own package manager (Debian names):'; \
	  echo '  to build: make $(BUILD_PACKAGES)'; echo '  to test:  $(CHECK_PACKAGES)'; \
	  echo '  to test the bench sheet in a browser: $(BROWSER_PACKAGES), then npm ci in tests/browser'; exit 1; fi
	@$(call install_missing,$(BUILD_PACKAGES) $(CHECK_PACKAGES),to build turnlay and to run its tests)
	@$(call install_missing,$(BROWSER_PACKAGES),to test the bench sheet in a browser) || \
	  echo 'deps: no browser; its tests will be skipped'
	@cd tests/browser && if [ node_modules/.package-lock.json -nt package-lock.json ]; then :; \
	  elif npm ci --no-audit --no-fund --loglevel=error; then touch node_modules/.package-lock.json; \
	  else echo 'deps: npm ci failed in tests/browser; the tests in a browser will be skipped'; fi
	@echo 'deps: done'

demo: all
	@mkdir -p out
	@for kind in text json csv; do $(PROGRAM) plan --format $$kind -o out/harbour.plan.$$kind examples/harbour.lay; done 2>/dev/null
	@$(PROGRAM) need -o out/harbour.need.text examples/harbour.lay 2>/dev/null
	@for view in side unrolled; do $(PROGRAM) draw --view $$view -o out/harbour.$$view.svg examples/harbour.lay 2>/dev/null; done
	@for kind in text html $(if $(PDF_PROGRAM),pdf); do \
	  $(PROGRAM) sheet --format $$kind -o out/harbour.sheet.$$kind examples/harbour.lay; done 2>/dev/null
	@$(PROGRAM) plan examples/harbour.lay
	@echo; echo 'out/ holds the schedule, the needs, the bench sheet and the pictures:'; ls out

# What shows at points of a crosswrap, for the tests of pictures.
$(BUILD)/draw_points: tests/draw/points.c $(LIBRARY)
	$(CC) $(FLAGS) $(LDFLAGS) -o $@ $< $(LIBRARY) $(LIBS)

# The program with some or all findings unsaid, for the tests of the last check.
$(BUILD)/mute: tests/lost/mute.c $(CLI) $(NO_PDF) $(OBJECTS)
	$(CC) $(FLAGS) $(LDFLAGS) -Wl,--wrap=finding_add -o $@ $^ $(LIBS)

check: all $(UNIT) $(BUILD)/draw_points $(BUILD)/mute
	BUILD=$(BUILD) CC='$(CC)' tests/run

bless: all
	BUILD=$(BUILD) tests/run --bless

bench: $(PROGRAM)
	BUILD=$(BUILD) tests/bench/run

install: all
	install -d $(DESTDIR)$(PREFIX)/bin $(DESTDIR)$(STDLIB)
	install -m 755 $(PROGRAM) $(PDF_PROGRAM) $(DESTDIR)$(PREFIX)/bin
	install -m 644 stdlib/*.lay $(DESTDIR)$(STDLIB)

uninstall:
	rm -f $(DESTDIR)$(PREFIX)/bin/turnlay $(DESTDIR)$(PREFIX)/bin/turnlay-pdf
	rm -rf $(DESTDIR)$(STDLIB)

clean:
	rm -rf $(BUILD) out

.SECONDARY: $(UNIT:=.o)
-include $(patsubst %.o,%.d,$(PDF_OBJECTS) $(OBJECTS) $(CLI) $(NO_PDF)) $(UNIT:=.d)
