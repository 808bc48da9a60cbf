# turnlay: build, test, install. `make help` lists what there is.
PREFIX  ?= /usr/local
DESTDIR ?=
CC      ?= cc
OBJCOPY ?= objcopy
BUILD   ?= build
# With the lines that backtraces and valgrind name, and without variables, which are a quarter of the work of building and
# more than half of the program's file: who steps through it wants `make debug` anyway.
CFLAGS  ?= -O2 -g1

ifneq ($(words $(BUILD)),1)
$(error BUILD='$(BUILD)': the folder to build in cannot have blanks in its name, since make takes them for several; \
DESTDIR, PREFIX and the folder of this tree may)
endif

AFTER_DEPS := $(filter-out deps,$(MAKECMDGOALS))
ifneq ($(and $(filter deps,$(MAKECMDGOALS)),$(AFTER_DEPS)),)
# What is built depends on what is installed: all else is asked of a fresh make, when deps is done.
.PHONY: $(MAKECMDGOALS) deps_first
$(MAKECMDGOALS): deps_first
	@:
deps_first:
	@$(MAKE) --no-print-directory deps
	@$(MAKE) --no-print-directory $(AFTER_DEPS)
else

WARNINGS = -Wall -Wextra -Wconversion -Wshadow -Wstrict-prototypes
STDLIB   = $(PREFIX)/share/turnlay/stdlib
EXAMPLES = $(PREFIX)/share/doc/turnlay/examples
# The same bytes, whatever the folder of this tree is called.
SAME     = '-ffile-prefix-map=$(CURDIR)=.'
# Without optimizing _FORTIFY_SOURCE does nothing but warn; who sets it is left to it.
FORTIFY  = $(if $(findstring _FORTIFY_SOURCE,$(CPPFLAGS) $(CFLAGS))$(filter -O0,$(CFLAGS)),,-U_FORTIFY_SOURCE -D_FORTIFY_SOURCE=2)
HARDEN   ?= yes
ifeq ($(HARDEN),yes)
HARDENED_FLAGS = -fstack-protector-strong -fPIE $(FORTIFY)
HARDENED_LINK  = -pie -Wl,-z,relro -Wl,-z,now
endif
SETTINGS = -std=c17 -D_GNU_SOURCE -Isrc -I$(BUILD) -MMD -MP $(WARNINGS) $(HARDENED_FLAGS) $(CPPFLAGS) $(CFLAGS)
FLAGS    = $(SETTINGS) $(SAME)
LINK     = $(CC) $(CFLAGS) $(HARDENED_LINK) $(LDFLAGS) -o $@ $(filter %.o,$^)
LIBS     = -ljansson -lutf8proc -lm

# The bench sheet as a PDF and pictures as PNG need pangocairo; where it is missing, or with `make PDF=no`, all else is built. They
# are written by a program of its own, turnlay-pdf, which turnlay calls: loading cairo and all it needs takes longer than
# compiling a rod.
PDF     := $(shell pkg-config --exists pangocairo 2>/dev/null && echo yes)
ifeq ($(PDF),yes)
PDF_FLAGS := $(shell pkg-config --cflags pangocairo)
PDF_LIBS  := $(shell pkg-config --libs pangocairo)
endif

# Debian packages: what each is for stands in DEVELOPERS.md.
BUILD_PACKAGES = gcc libc6-dev re2c bison libjansson-dev libutf8proc-dev pkg-config libpango1.0-dev
CHECK_PACKAGES = clang libclang-rt-dev clang-format libcmocka-dev libgsl-dev liblcms2-dev python3 python3-jsonschema libxml2-utils librsvg2-bin locales valgrind poppler-utils fonts-dejavu-core
# The browser without a window, which takes a fifth less; where there is none, the whole one.
BROWSERS = chromium-headless-shell chromium
NODE_PACKAGES = $(if $(shell command -v npm),,nodejs npm)

# Which folder a source lies in decides what it is linked into: src/emit/pdf into turnlay-pdf alone, src/cli into the
# programs and not the library.
FILES     := $(sort $(shell find src -name '*.c' -o -name '*.awk' -o -name '*.css' -o -name '*.js'))
quoted     = '$(subst ','\'',$(1))'
object     = $(patsubst %.c,$(BUILD)/%.o,$(1))
GENERATED  = $(BUILD)/scanner.c $(BUILD)/parser.c $(BUILD)/quick_parser.c $(BUILD)/explanations.c $(BUILD)/sheet_assets.c $(BUILD)/std_table.c
PDF_FILES  = src/emit/pdf/% src/pdf_page.c
OBJECTS    = $(call object,$(filter-out src/cli/% $(PDF_FILES),$(filter %.c,$(FILES)))) $(GENERATED:.c=.o)
BASE       = $(filter $(BUILD)/src/base/%,$(OBJECTS))
LIBRARY    = $(BUILD)/libturnlay.a
NO_PDF     = $(call object,src/cli/no_pdf.c)
CLI        = $(filter-out $(NO_PDF),$(call object,$(filter src/cli/%.c,$(FILES)))) $(BUILD)/first_pattern.o
PROGRAM    = $(BUILD)/turnlay
PDF_OBJECTS = $(if $(PDF_LIBS),$(call object,$(filter $(PDF_FILES),$(filter %.c,$(FILES)))))
PDF_PROGRAM = $(if $(PDF_LIBS),$(BUILD)/turnlay-pdf)
PDF_UNITS  = $(BUILD)/tests/test_sheet_pdf $(BUILD)/tests/test_drawing_png
UNIT       = $(filter-out $(if $(PDF_LIBS),,$(PDF_UNITS)),$(patsubst tests/unit/%.c,$(BUILD)/tests/%,$(wildcard tests/unit/test_*.c)))

.PHONY: all demo deps check quick renew bench mutate fuzz format debug asan tsan install uninstall clean help always
.DELETE_ON_ERROR:

all: $(PROGRAM) $(PDF_PROGRAM) $(LIBRARY)
	@[ '$(PDF)' = yes ] || rm -f $(BUILD)/turnlay-pdf $(PDF_UNITS)
	@[ '$(PDF)' = yes ] || echo 'left out: bench sheets as PDF and pictures as PNG (pkg-config finds no pangocairo; make deps installs it)'

help:
	@echo 'make            build the program (build/turnlay); installs nothing'
	@echo 'make deps       install what building and testing need (Debian packages)'
	@echo 'make demo       compile examples/harbour.lay into out/ and print its plan'
	@echo 'make check      all tests; make check STAGE=pdf (or "pdf cli") runs those stages alone'
	@echo 'make quick      the tests to run after every change: unit without its long ones, golden, reference'
	@echo 'make renew      renew the golden files of the tests; read the difference before you commit it'
	@echo '                FROZEN=yes renews those of edition 1 as well; the commit gives the reason'
	@echo 'make mutate     make small faults in the program and see whether the tests notice; SEED= N=; within an hour'
	@echo 'make fuzz       go on fuzzing from the tests'\'' corpus: TIME=seconds; TARGET=read, pages, records or pdf'
	@echo 'make bench      what the program costs, in instructions, memory and time; PART= of it; RENEW=yes keeps the figures'
	@echo 'make format     set the C files as .clang-format says'
	@echo 'make debug      build/debug/turnlay, not optimized, to be stepped through'
	@echo 'make asan       build/asan/turnlay, with the address and undefined-behaviour sanitizers'
	@echo 'make tsan       build/tsan/libturnlay.a, the library with the thread sanitizer'
	@echo 'make install PREFIX=/usr/local DESTDIR='

$(BUILD)/scanner.c: grammar/scanner.re
	@mkdir -p $(@D)
	re2c -W -Werror -b -i --no-generation-date -o $@ $<

BISON = bison -Wall -Wcounterexamples -Wdangling-alias -Werror
$(BUILD)/parser.c $(BUILD)/parser.h &: grammar/parser.y
	@mkdir -p $(@D)
	$(BISON) -Dapi.prefix='{parser_}' -Dparse.lac=full -Dparse.lac.es-capacity-initial='"2000"' \
	  --defines=$(BUILD)/parser.h -o $(BUILD)/parser.c $<

# Without look-ahead correction: the grammar says what for.
$(BUILD)/quick_parser.c: grammar/parser.y
	@mkdir -p $(@D)
	$(BISON) -Dapi.prefix='{quick_}' -o $@ $<
	sed -i '1i #define QUICK_PARSER' $@

# The pages behind `turnlay explain`, as text in the program.
EXPLAIN_AWK = $(filter src/base/literal.awk src/check/%embed.awk,$(FILES))
FINDING_PAGES = $(sort $(wildcard grammar/findings/*.md))
$(BUILD)/explanations.c: $(EXPLAIN_AWK) $(FINDING_PAGES)
	@mkdir -p $(@D)
	awk $(EXPLAIN_AWK:%=-f %) $(FINDING_PAGES) > $@

# What the standard library declares, for mends.
STD_NAMES_AWK = src/meaning/std_names.awk
STD_FILES = $(sort $(wildcard stdlib/*.lay))
$(BUILD)/std_table.c: $(STD_NAMES_AWK) $(STD_FILES)
	@mkdir -p $(@D)
	awk -f $(STD_NAMES_AWK) $(STD_FILES) > $@

# What `turnlay new` writes; of the program alone, the library has no use for it.
NEW_AWK = $(filter src/base/literal.awk src/cli/%embed.awk,$(FILES))
$(BUILD)/first_pattern.c: $(NEW_AWK) src/cli/first_pattern.lay
	@mkdir -p $(@D)
	awk $(NEW_AWK:%=-f %) src/cli/first_pattern.lay > $@

# Style and script of the bench sheet's page, with the hashes that its content security policy names. Each is one, of
# several files in the order of their names; the block keeps the script's names from the page.
SHEET_AWK = $(filter src/base/literal.awk src/emit/%embed.awk,$(FILES))
SHEET_ASSETS = $(BUILD)/sheet.css $(BUILD)/sheet.js
$(BUILD)/sheet.css: $(filter %.css,$(FILES))
	@mkdir -p $(@D)
	cat $^ > $@
$(BUILD)/sheet.js: $(filter %.js,$(FILES))
	@mkdir -p $(@D)
	{ echo '"use strict"; {'; cat $^; echo '}'; } > $@
$(BUILD)/sheet_assets.c: $(SHEET_AWK) $(SHEET_ASSETS)
	@mkdir -p $(@D)
	sha256sum $(SHEET_ASSETS) | awk $(SHEET_AWK:%=-f %) - $(SHEET_ASSETS) > $@

# The commit of a checkout; nothing where the tree is none. Written only when it is another, so that only what prints it
# is compiled again.
$(BUILD)/commit.h: always
	@mkdir -p $(@D)
	@commit=$$([ ! -e .git ] || git rev-parse --short=7 HEAD 2>/dev/null); \
	line="$${commit:+#define TURNLAY_COMMIT \"$$commit\"}"; \
	[ -e $@ ] && [ "$$line" = "$$(cat $@)" ] || echo "$$line" > $@
$(call object,src/cli/version.c): $(BUILD)/commit.h

# Other flags make other objects.
$(BUILD)/flags: COMPILER := $(CC) $(SETTINGS) $(LDFLAGS)
$(BUILD)/flags: always
	@mkdir -p $(@D)
	@flags=$(call quoted,$(COMPILER)); [ "$$flags" = "$$(cat $@ 2>/dev/null)" ] || printf '%s\n' "$$flags" > $@

$(BUILD)/%.o: %.c $(BUILD)/flags | $(BUILD)/parser.h
	@mkdir -p $(@D)
	$(CC) $(FLAGS) -c $< -o $@

$(BUILD)/%.o: $(BUILD)/%.c $(BUILD)/flags | $(BUILD)/parser.h
	$(CC) $(FLAGS) -c $< -o $@

$(BUILD)/src/cli/%.o: FLAGS += -DTURNLAY_STDLIB='"$(STDLIB)"'
$(BUILD)/src/emit/pdf/%.o $(PDF_UNITS:=.o): FLAGS += $(PDF_FLAGS)

# One object in which every name but turnlay_... has become its own affair: a program that is linked with it is free to
# call its functions what it likes.
$(LIBRARY): $(OBJECTS)
	$(LD) -r -o $(BUILD)/turnlay.o $^
	$(OBJCOPY) --wildcard --keep-global-symbol='turnlay_*' $(BUILD)/turnlay.o
	rm -f $@
	$(AR) rcsD $@ $(BUILD)/turnlay.o

# A client of the library like any other, with arenas and buffers of its own.
$(PROGRAM): $(CLI) $(NO_PDF) $(BASE) $(LIBRARY)
	$(LINK) $(LIBRARY) $(LIBS)

# Has one page more than the library, and so is linked with what stands behind it.
$(BUILD)/turnlay-pdf: $(CLI) $(PDF_OBJECTS) $(OBJECTS)
	$(LINK) $(LIBS) $(PDF_LIBS)

# The tests reach into every room: they link the house, not what is installed. They are compiled as they stand: what takes
# time in them is the house.
$(UNIT:=.o): FLAGS += -O0 -U_FORTIFY_SOURCE
$(BUILD)/tests/%.o: tests/unit/%.c $(BUILD)/flags | $(BUILD)/parser.h
	@mkdir -p $(@D)
	$(CC) $(FLAGS) -c $< -o $@

# A hundred tests hold all of the house each: as one object, without what debuggers read, it is linked in half the time. A
# sanitizer reads it; for a debugger, `make BRIEF= CFLAGS='-O2 -g' build/tests/NAME`.
BRIEF = $(if $(findstring sanitize,$(CFLAGS)),,-S)
$(BUILD)/house.o: $(OBJECTS)
	$(LD) -r $(BRIEF) -o $@ $^

$(BUILD)/tests/%: $(BUILD)/tests/%.o $(BUILD)/house.o
	$(LINK) $(BRIEF:%=-Wl,%) -lcmocka -lgsl -lgslcblas -llcms2 $(LIBS)

$(PDF_UNITS): %: %.o $(PDF_OBJECTS) $(BUILD)/house.o
	$(LINK) $(BRIEF:%=-Wl,%) -lcmocka $(LIBS) $(PDF_LIBS)

# What shows at points of a crosswrap, for the tests of pictures.
$(BUILD)/draw_points: $(BUILD)/tests/draw/points.o $(OBJECTS)
	$(LINK) $(LIBS)

# Programs of the bench; what looks at many files is a client of the library like any other.
$(BUILD)/count_pages: $(BUILD)/tests/bench/count_pages.o $(LIBRARY)
	$(LINK) $(LIBRARY) $(LIBS)
$(BUILD)/reader: $(BUILD)/tests/bench/reader.o $(LIBRARY)
	$(LINK) $(LIBRARY) $(LIBS)

# The library's answers to texts and jobs by the thousand.
$(BUILD)/varied: $(BUILD)/tests/varied/varied.o $(BUILD)/tests/varied/pixels.o $(OBJECTS)
	$(LINK) $(LIBS)

$(BUILD)/measure: $(BUILD)/tests/bench/measure.o
	$(LINK)

$(BUILD)/fades: $(BUILD)/tests/bench/fades.o $(filter $(BUILD)/src/trade/%,$(OBJECTS))
	$(LINK) -lm

# The program with some or all findings unsaid, for the tests of the last check.
$(BUILD)/mute: $(BUILD)/tests/lost/mute.o $(CLI) $(NO_PDF) $(OBJECTS)
	$(LINK) -Wl,--wrap=finding_add $(LIBS)

# The program that compiles a file once for many pages.
$(BUILD)/many_pages: $(BUILD)/tests/golden/many_pages.o $(CLI) $(NO_PDF) $(OBJECTS)
	$(LINK) -Wl,--wrap=main -Wl,--wrap=compile_file $(LIBS)

# What the fuzz targets are linked with: libFuzzer in `make fuzz`, which sets ENGINE; without it a main of their own that
# goes through the files it is given, for `make check`.
FUZZ_TARGETS = read pages records $(if $(PDF_LIBS),pdf)
FUZZ_SHARED  = $(BUILD)/tests/fuzz/compile.o $(if $(ENGINE),,$(BUILD)/tests/fuzz/replay.o)
$(BUILD)/fuzz_%: $(BUILD)/tests/fuzz/%.o $(FUZZ_SHARED) $(OBJECTS)
	$(LINK) $(ENGINE) $(LIBS)

$(BUILD)/fuzz_pdf: $(BUILD)/tests/fuzz/pdf.o $(FUZZ_SHARED) $(PDF_OBJECTS) $(OBJECTS)
	$(LINK) $(ENGINE) $(LIBS) $(PDF_LIBS)

# Every word of the language, for the fuzzer to make texts of.
$(BUILD)/dictionary: $(BUILD)/tests/fuzz/dictionary.o $(OBJECTS)
	$(LINK) $(LIBS)

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
	  echo '  to test the bench sheet in a browser: $(strip $(firstword $(BROWSERS)) $(NODE_PACKAGES)), then npm ci in tests/browser'; exit 1; fi
	@$(call install_missing,$(BUILD_PACKAGES) $(CHECK_PACKAGES),to build turnlay and to run its tests)
	@$(foreach browser,$(BROWSERS),{ $(call install_missing,$(browser) $(NODE_PACKAGES),to test the bench sheet in a browser); } ||) \
	  echo 'deps: no browser; its tests will be skipped'
	@cd tests/browser && if [ node_modules/.package-lock.json -nt package-lock.json ]; then :; \
	  elif npm ci --no-audit --no-fund --loglevel=error; then touch node_modules/.package-lock.json; \
	  else echo 'deps: npm ci failed in tests/browser; the tests in a browser will be skipped'; fi
	@echo 'deps: done'

demo: all
	@mkdir -p out
	@for kind in text json csv; do $(PROGRAM) plan --format $$kind -o out/harbour.plan.$$kind examples/harbour.lay; done 2>/dev/null
	@$(PROGRAM) need -o out/harbour.need.text examples/harbour.lay 2>/dev/null
	@for view in rod presentation side unrolled; do $(PROGRAM) draw --view $$view -o out/harbour.$$view.svg examples/harbour.lay 2>/dev/null; done
	@for kind in text html $(if $(PDF_PROGRAM),pdf); do \
	  $(PROGRAM) sheet --format $$kind -o out/harbour.sheet.$$kind examples/harbour.lay; done 2>/dev/null
	@$(PROGRAM) plan examples/harbour.lay
	@echo; echo 'out/ holds the plan, the needs, the bench sheet and the pictures:'; ls out

# As many compilers at a time as there are processors, unless -j was given.
PARALLEL = $(if $(filter -j% --jobserver%,$(MAKEFLAGS)),,-j$(shell nproc))
# Unit tests that take a second or more of a processor each, three quarters of what all take; `make quick` leaves them to
# the whole check.
LONG_UNITS = test_base_print test_chosen_fade test_drawing_png test_fade_choice test_fade_turns test_file_limits test_measured \
             test_memory test_mishaps test_replay test_sheet_pdf test_shades
# What a stage of the tests needs beside the program.
needs_unit      = $(filter-out $(LEFT_OUT:%=$(BUILD)/tests/%),$(UNIT))
needs_draw      = $(BUILD)/draw_points
needs_sums      = $(BUILD)/many_pages
needs_measured  = $(BUILD)/many_pages
needs_lost      = $(BUILD)/mute
needs_varied    = $(BUILD)/varied
needs_growth    = $(BUILD)/count_pages
needs_sanitized = asan
needs_library   = $(LIBRARY) tsan
needs_fuzz      = asan $(BUILD)/dictionary
STAGES          = unit draw sums measured varied lost growth sanitized library fuzz

check:
	@$(MAKE) --no-print-directory -s $(PARALLEL) all $(foreach stage,$(or $(STAGE),$(STAGES)),$(needs_$(stage)))
	@BUILD=$(BUILD) CC='$(CC)' LEFT_OUT='$(LEFT_OUT)' tests/run $(STAGE)

quick:
	@$(MAKE) --no-print-directory check STAGE='unit golden reference' LEFT_OUT='$(LONG_UNITS)'

renew: all $(BUILD)/many_pages $(BUILD)/varied $(filter $(PDF_UNITS),$(UNIT))
	BUILD=$(BUILD) FROZEN='$(FROZEN)' tests/run --renew

bench: all $(BUILD)/count_pages $(BUILD)/fades $(BUILD)/measure $(BUILD)/reader
	@BUILD=$(BUILD) CC='$(CC)' RENEW='$(RENEW)' PYTHONDONTWRITEBYTECODE=1 tests/bench/run $(PART)

format:
	clang-format -i $$(find src tests examples -name node_modules -prune -o -name '*.[ch]' -print)

# Builds with other flags, each in a folder of its own. A program seeks the standard library beside its folder.
other_build = @mkdir -p $(BUILD) && ln -sfn '$(CURDIR)/stdlib' $(BUILD)/stdlib
debug:
	$(other_build)
	@$(MAKE) --no-print-directory $(PARALLEL) BUILD=$(BUILD)/debug CFLAGS='-O0 -g3' HARDEN=no all

# clang's look at more than gcc's, such as sums with a null pointer.
SANITIZING = $(or $(shell command -v clang),$(CC))
# What goes on behind a fault takes a third longer to compile, and nobody looks at it.
SANITIZERS = -fsanitize=address,undefined -fno-sanitize-recover=all
asan:
	$(other_build)
	@$(MAKE) --no-print-directory $(PARALLEL) BUILD=$(BUILD)/asan CC='$(SANITIZING)' CFLAGS='-O1 -g1 -fno-omit-frame-pointer $(SANITIZERS)' \
	  HARDEN=no $(BUILD)/asan/turnlay $(BUILD)/asan/many_pages $(BUILD)/asan/tests/test_memory $(BUILD)/asan/tests/test_library \
	  $(FUZZ_TARGETS:%=$(BUILD)/asan/fuzz_%)

# Fuzzing goes on from the corpus that `make check` replays.
fuzz:
	@$(MAKE) --no-print-directory -s $(PARALLEL) all
	@$(MAKE) --no-print-directory -s $(PARALLEL) BUILD=$(BUILD)/fuzz CC=clang HARDEN=no ENGINE=-fsanitize=fuzzer \
	  CFLAGS='-O1 -g1 -fno-omit-frame-pointer -fsanitize=fuzzer-no-link $(SANITIZERS)' \
	  $(FUZZ_TARGETS:%=$(BUILD)/fuzz/fuzz_%) $(BUILD)/fuzz/dictionary
	@BUILD=$(BUILD) TIME='$(TIME)' TARGET='$(TARGET)' SEED='$(SEED)' N='$(N)' tests/fuzz/go

# The library alone, with the thread sanitizer.
tsan:
	@$(MAKE) --no-print-directory $(PARALLEL) BUILD=$(BUILD)/tsan CC='$(CC)' CFLAGS='-O1 -g1 -fsanitize=thread' HARDEN=no $(BUILD)/tsan/libturnlay.a

# In copies of the tree below $(BUILD)/mutate.
mutate:
	BUILD=$(BUILD) CC='$(CC)' SEED='$(SEED)' N='$(N)' WITHOUT='$(WITHOUT)' ONLY='$(ONLY)' tests/mutate/mutate.py

# Where it lies follows from where it was found, so that an installed tree may be moved.
$(BUILD)/turnlay.pc: src/turnlay.pc.in src/turnlay.h
	@mkdir -p $(@D)
	sed "s/@version@/$$(sed -n 's/^#define TURNLAY_VERSION "\(.*\)"/\1/p' src/turnlay.h)/" $< > $@

install: all $(BUILD)/turnlay.pc
	install -d '$(DESTDIR)$(PREFIX)/bin' '$(DESTDIR)$(STDLIB)'
	install -m 755 $(PROGRAM) $(PDF_PROGRAM) '$(DESTDIR)$(PREFIX)/bin'
	install -m 644 stdlib/*.lay '$(DESTDIR)$(STDLIB)'
	install -d '$(DESTDIR)$(PREFIX)/include' '$(DESTDIR)$(PREFIX)/lib/pkgconfig' '$(DESTDIR)$(EXAMPLES)'
	install -m 644 src/turnlay.h '$(DESTDIR)$(PREFIX)/include'
	install -m 644 $(LIBRARY) '$(DESTDIR)$(PREFIX)/lib'
	install -m 644 $(BUILD)/turnlay.pc '$(DESTDIR)$(PREFIX)/lib/pkgconfig'
	install -m 644 examples/embed.c '$(DESTDIR)$(EXAMPLES)'

uninstall:
	rm -f '$(DESTDIR)$(PREFIX)/bin/turnlay' '$(DESTDIR)$(PREFIX)/bin/turnlay-pdf'
	rm -rf '$(DESTDIR)$(STDLIB)' '$(DESTDIR)$(EXAMPLES)'
	rm -f '$(DESTDIR)$(PREFIX)/include/turnlay.h' '$(DESTDIR)$(PREFIX)/lib/libturnlay.a' \
	  '$(DESTDIR)$(PREFIX)/lib/pkgconfig/turnlay.pc'

clean:
	rm -rf $(BUILD) out

OTHER_TESTS = $(BUILD)/tests/draw/points $(BUILD)/tests/golden/many_pages $(BUILD)/tests/lost/mute $(BUILD)/tests/varied/varied $(BUILD)/tests/varied/pixels $(patsubst %.c,$(BUILD)/%,$(wildcard tests/fuzz/*.c tests/bench/*.c))
.SECONDARY: $(UNIT:=.o) $(OTHER_TESTS:=.o)
-include $(patsubst %.o,%.d,$(PDF_OBJECTS) $(OBJECTS) $(CLI) $(NO_PDF)) $(UNIT:=.d) $(OTHER_TESTS:=.d)

endif
