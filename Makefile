# Pawnvane. Everything that is built goes below $(BUILD).
#
#   make            the engine, the harness and the structure library
#   make dev        both programs in $(BUILD)/dev, quickly built and less quick to run
#   make check      the same, and the tests that take under a second each
#   make demo       build, then the main job on the shipped positions
#   make test       build, then every test program
#   make test-portable     the player's and the quick ones, by the other compiler, code for any machine
#   make test-sanitized    the same under AddressSanitizer and UndefinedBehaviorSanitizer
#   make test-threads      what runs on several threads, under ThreadSanitizer
#   make fuzz SECONDS=60   each fuzz target so long, under both sanitizers (needs clang)
#   make trial      tries to break both programs, for half an hour; make trial BRIEF=1 for half a minute
#   make soak       plays for hours: COUNT=20000 games at fixed nodes, CLOCK_GAMES=2000, each for MINUTES=600 at most
#   make memory     each command and the engine once under valgrind, in minutes
#   make statistics levels and coverage of what is printed, by simulation, in minutes
#   make bench      timings: nodes a second, perft, move ordering; the size of scores, mates, the clock
#   make analyse    what gcc -fanalyzer and cppcheck say of the sources
#   make lint       clang-format, clang-tidy, mandoc, and clang with warnings as errors
#   make pictures   draws the pictures of README.md anew (needs Chromium)
#   make check-reference   comparisons with independent libraries (needs Node.js, SciPy, statsmodels)
#   make install    below PREFIX, /usr/local by default; code for any machine, with NATIVE=1 for this one
#   make uninstall  takes away what that put there
#
# Places of the installation: PREFIX, BINDIR, LIBDIR, INCLUDEDIR, MANDIR, all below DESTDIR if that is set.
# PORTABLE=1 leaves out -march=native; CC=clang works; BUILD=dir builds elsewhere. Builds with different settings
# need directories of their own.

BUILD    ?= build
PREFIX   ?= /usr/local
BINDIR   ?= $(PREFIX)/bin
LIBDIR   ?= $(PREFIX)/lib
INCLUDEDIR ?= $(PREFIX)/include
MANDIR   ?= $(PREFIX)/share/man
CC       ?= cc
ifeq ($(origin CC),default)
CC       := gcc
endif

WARNINGS := -Wall -Wextra -Wpedantic -Wshadow -Wconversion
OPTIMISE ?= -O3 $(if $(PORTABLE),,-march=native)
CPPFLAGS += -D_GNU_SOURCE -I. $(if $(SANITIZE),,-DNDEBUG) $(DEFINES)
# Link-time optimisation of the player's and the analysis's code in the two programs, by gcc; the harness's own code
# would only make it slow to build. Everything else links the plain code of the same objects.
LTO      := $(if $(or $(SANITIZE),$(findstring clang,$(CC))),,1)
# What makes a mistake in the code an end of the program and no door; the sanitizers look for the same, and more.
comma := ,
HARDEN   := $(if $(SANITIZE),,-fstack-protector-strong -U_FORTIFY_SOURCE -D_FORTIFY_SOURCE=2)
HARDEN_LINK := $(if $(SANITIZE),,-Wl$(comma)-z$(comma)relro$(comma)-z$(comma)now)
CFLAGS   += -std=c11 $(WARNINGS) $(OPTIMISE) $(HARDEN) $(SANITIZE) -pthread -fPIC -fvisibility=hidden -MMD -MP
LTO_FLAGS := $(if $(LTO),-flto -ffat-lto-objects)
PROGRAM_FLAGS := $(if $(SANITIZE),,-pie) $(if $(LTO),-flto=2)
PLAIN_FLAGS   := $(if $(LTO),-fno-lto)
LDFLAGS  += $(SANITIZE) $(HARDEN_LINK) -pthread
BENCH_LIBS := -lsqlite3 -lcjson -lzstd -lm
TEST_LIBS  := -lcmocka

# From the one place where it stands.
VERSION := $(shell awk '/define PS_VERSION_(MAJOR|MINOR|PATCH) / { printf "%s%s", dot, $$3; dot = "." }' \
             structure/structure.h)
SONAME  := libpawnstructure.so.$(firstword $(subst ., ,$(VERSION)))

objects = $(patsubst %.c,$(BUILD)/%.o,$(1))
STRUCTURE := $(call objects,$(wildcard structure/*.c))
SOLVER    := $(call objects,engine/endings/solve_endings.c engine/endings/retrograde.c)
ENGINE    := $(filter-out $(BUILD)/engine/protocol/main.o $(SOLVER),$(call objects,$(wildcard engine/*/*.c))) \
             $(BUILD)/engine/endings/tables.o
HARNESS   := $(call objects,$(wildcard bench/*/*.c)) $(BUILD)/bench/play/source_hash.o
TESTS     := $(patsubst %.c,$(BUILD)/%,$(wildcard tests/*/test_*.c tests/*/*/test_*.c))
MEASURE   := $(addprefix $(BUILD)/tests/measure_,speed scores mates clock)
STATISTICS := $(patsubst %.c,$(BUILD)/%,$(wildcard tests/statistics/*.c))
FUZZ      := $(patsubst %.c,$(BUILD)/%,$(wildcard tests/fuzz/fuzz_*.c))
EMITTER   := $(patsubst %.c,$(BUILD)/%,$(wildcard tests/reference/*.c))
SOURCES   := $(wildcard bench/*.c bench/*/*.c engine/*/*.c structure/*.c tests/*.c tests/*/*.c tests/*/*/*.c)
HEADERS   := $(wildcard bench/*.h bench/*/*.h engine/*/*.h structure/*.h tests/*/*.h tests/*/*/*.h)

.PHONY: memory soak fuzz fuzz-all trial all dev check check-quick player-and-quick demo test test-portable test-sanitized test-threads statistics bench analyse analyse-by-clang lint pictures check-reference \
        clean install copy-installed uninstall always
.DELETE_ON_ERROR:
.SECONDARY:

all: $(BUILD)/pawnvane $(BUILD)/pawnvane-bench $(BUILD)/libpawnstructure.a $(BUILD)/libpawnstructure.so

$(ENGINE) $(STRUCTURE): CFLAGS += $(LTO_FLAGS)

$(BUILD)/%.o: %.c
	@mkdir -p $(@D)
	$(CC) $(CPPFLAGS) $(CFLAGS) -c $< -o $@

# Exact tables of small endings, which the build works out in some seconds, once for all build directories: by a
# program for this machine, whatever the others are built for.
ENDINGS := build/endings/tables

build/endings/solve_endings: engine/endings/solve_endings.c engine/endings/retrograde.c engine/rules/attacks.c \
                             $(wildcard engine/endings/*.h)
	@mkdir -p $(@D)
	$(CC) -std=c11 -D_GNU_SOURCE -I. -DNDEBUG -O3 -march=native $(filter %.c,$^) -o $@

$(ENDINGS): build/endings/solve_endings
	$< $@

$(BUILD)/engine/endings/tables.o: engine/endings/tables.S $(ENDINGS)
	@mkdir -p $(@D)
	$(CC) -DENDINGS='"$(ENDINGS)"' -c $< -o $@

# What decides how a game goes, as one number for the record of a run (bench/play/source_hash.h). It is worked out
# each time, because a file that has gone leaves no trace, and written only if it is another.
HASHED := $(sort $(wildcard engine/*/*.[chS] structure/*.[ch] bench/play/*.[ch]))

$(BUILD)/bench/play/source_hash.c: always
	@mkdir -p $(@D)
	@printf '#include "bench/play/source_hash.h"\n\nconst char source_hash[] = "%.16s";\n' \
	    "$$(sha256sum $(HASHED) | sha256sum)" >$@.new
	@if cmp -s $@.new $@; then rm $@.new; else mv $@.new $@; fi

$(BUILD)/bench/play/source_hash.o: $(BUILD)/bench/play/source_hash.c
	$(CC) $(CPPFLAGS) $(CFLAGS) -c $< -o $@

# Without the code for link-time optimisation, which only the compiler that wrote it can read.
$(BUILD)/libpawnstructure.a: $(STRUCTURE)
	rm -f $@ && ar rcs $@ $^
	$(if $(LTO),objcopy --remove-section='.gnu.lto_*' $@)

$(BUILD)/libpawnstructure.so.$(VERSION): $(STRUCTURE)
	$(CC) $(PLAIN_FLAGS) $(LDFLAGS) -shared -Wl,-soname,$(SONAME) $^ -o $@

$(BUILD)/libpawnstructure.so: $(BUILD)/libpawnstructure.so.$(VERSION)
	ln -sf $(<F) $(BUILD)/$(SONAME)
	ln -sf $(SONAME) $@

$(BUILD)/pawnvane: $(BUILD)/engine/protocol/main.o $(ENGINE) $(STRUCTURE)
	$(CC) $(CFLAGS) $(PROGRAM_FLAGS) $(LDFLAGS) $^ -o $@

$(BUILD)/pawnvane-bench: $(BUILD)/bench/main.o $(HARNESS) $(ENGINE) $(STRUCTURE)
	$(CC) $(CFLAGS) $(PROGRAM_FLAGS) $(LDFLAGS) $^ $(BENCH_LIBS) -o $@

# With the packages python3-scipy and python3-statsmodels.
PYTHON ?= /usr/bin/python3

# What the tests link: all objects but the two main programs', of which each takes what it needs.
$(BUILD)/everything.a: $(HARNESS) $(ENGINE) $(STRUCTURE) $(BUILD)/engine/endings/retrograde.o
	rm -f $@ && ar rcs $@ $^

$(TESTS) $(EMITTER) $(STATISTICS): %: %.o $(BUILD)/everything.a
	$(CC) $(CFLAGS) $(PLAIN_FLAGS) $(LDFLAGS) $^ $(TEST_LIBS) $(BENCH_LIBS) -o $@

$(FUZZ): %: %.o $(BUILD)/everything.a
	$(CC) $(CFLAGS) $(LDFLAGS) -fsanitize=fuzzer $^ $(BENCH_LIBS) -o $@

$(MEASURE): %: %.o $(HARNESS) $(ENGINE) $(STRUCTURE)
	$(CC) $(CFLAGS) $(PROGRAM_FLAGS) $(LDFLAGS) $^ $(BENCH_LIBS) -o $@

# Runs test programs, as many at a time as there are processors, the longest first.
LONG := duel damaged_store interrupt fit search structure_json tune contrast uci play ladder
longest_first = $(filter $(addprefix %/test_,$(LONG)),$(1)) $(filter-out $(addprefix %/test_,$(LONG)),$(1))
define run_tests
	@rm -f $(BUILD)/failed
	@printf '%s\n' $(call longest_first,$(1)) | xargs -P $$(nproc) -n 1 tests/run-one $(abspath $(BUILD))
	@failed=$$(cat $(BUILD)/failed 2>/dev/null | wc -l); \
	echo "$(words $(1)) test programs, $$failed failed"; \
	test $$failed -eq 0
endef

# The two programs without link-time optimisation, and the tests that take under a second each, for the loop of edit
# and try. The other tests are these; "make test" says how long each takes.
DEV  = @$(MAKE) --no-print-directory -s -j2 BUILD=$(BUILD)/dev LTO= OPTIMISE='-O1 -g'
SLOW := census chance club_match contrast damaged_store duel evaluate faulty_engines fingerprint fit forecast_searches handout interrupt ladder \
        match_statistics nearer nothing_is_lost opening packed_bytes perft play search structure_json tune uci worth
PLAYER := $(filter $(BUILD)/tests/engine/%,$(TESTS))
QUICK := $(filter-out $(addprefix %/test_,$(SLOW)),$(TESTS))

dev:
	$(DEV) $(BUILD)/dev/pawnvane $(BUILD)/dev/pawnvane-bench

check:
	$(DEV) check-quick

check-quick: $(BUILD)/pawnvane $(BUILD)/pawnvane-bench $(QUICK)
	$(call run_tests,$(QUICK))

# Engines that must search the same tree: one without the lever term at weight 0, and one from another compiler
# for any machine.
NO_TERM  := $(BUILD)/no-term
OTHER    := $(BUILD)/other
OTHER_CC := $(shell command -v $(if $(findstring clang,$(CC)),gcc,clang) || echo $(CC))

UNWATCHED := SANITIZE= OPTIMISE='-O2 $(if $(PORTABLE),,-march=native)' LTO=

$(NO_TERM)/pawnvane: $(BUILD)/pawnvane
	$(MAKE) BUILD=$(NO_TERM) $(UNWATCHED) DEFINES=-DPAWNVANE_NO_TERM $@

$(OTHER)/pawnvane: $(BUILD)/pawnvane
	$(MAKE) BUILD=$(OTHER) $(UNWATCHED) DEFINES= CC=$(OTHER_CC) PORTABLE=1 $@

test: all $(TESTS) $(if $(filter %/test_search,$(TESTS)),$(NO_TERM)/pawnvane $(OTHER)/pawnvane)
	$(call run_tests,$(TESTS))

# By another compiler, without the instructions that only some machines have: the player, and the quick tests.
test-portable:
	$(MAKE) BUILD=$(BUILD)/portable PORTABLE=1 CC=$(OTHER_CC) player-and-quick

player-and-quick: all $(NO_TERM)/pawnvane $(OTHER)/pawnvane $(PLAYER) $(QUICK)
	$(call run_tests,$(sort $(PLAYER) $(QUICK)))

test-sanitized:
	$(MAKE) BUILD=$(BUILD)/sanitized OPTIMISE='-O2 -g1 -fno-omit-frame-pointer' \
	    SANITIZE='-fsanitize=address,undefined -fno-sanitize-recover=all' DEFINES=-DPAWNVANE_SLOW test

# The threads of the engine and of the harness themselves, then each command that has workers, on four of them, and the
# engine on eight while its options change.
THREADED := engine/search/test_workers bench/base/test_parallel

test-threads:
	$(MAKE) BUILD=$(BUILD)/threads OPTIMISE='-O2 -g1' SANITIZE=-fsanitize=thread DEFINES=-DPAWNVANE_SLOW \
	    TESTS='$(THREADED:%=$(BUILD)/threads/tests/%)' test
	tests/trial/each $(BUILD)/threads --workers 4 --dialogues 3

# Each command once, and the engine, in a program that watches every byte. It knows the instructions of any machine,
# and no others.
memory:
	$(MAKE) BUILD=$(BUILD)/memory PORTABLE=1 LTO= OPTIMISE='-O1 -g' $(BUILD)/memory/pawnvane $(BUILD)/memory/pawnvane-bench
	tests/trial/each $(BUILD)/memory --under 'valgrind --quiet --leak-check=full --error-exitcode=9' --steps 6

SECONDS ?= 60

fuzz:
	$(MAKE) BUILD=$(BUILD)/fuzz CC=clang OPTIMISE='-O1 -g -fno-omit-frame-pointer' \
	    SANITIZE='-fsanitize=fuzzer-no-link,address,undefined -fno-sanitize-recover=all' fuzz-all

# As many at a time as there are processors.
fuzz-all: $(FUZZ)
	@rm -f $(BUILD)/failed
	@printf '%s\n' $(FUZZ) | xargs -P $$(nproc) -n 1 tests/fuzz/one-target $(BUILD) $(SECONDS)
	@test ! -e $(BUILD)/failed

trial: $(BUILD)/pawnvane $(BUILD)/pawnvane-bench
	tests/trial/run $(BUILD) $(if $(BRIEF),--quick)

COUNT       ?= 20000
CLOCK_GAMES ?= 2000
MINUTES     ?= 600

soak: $(BUILD)/pawnvane-bench
	$(INSTALL_REFERENCES)
	tests/trial/soak $(BUILD) --games $(COUNT) --clock-games $(CLOCK_GAMES) --minutes $(MINUTES)

# All of them, even if one fails.
statistics: $(STATISTICS)
	@failed=0; for program in $(STATISTICS); do $$program || failed=1; done; exit $$failed

bench: all $(MEASURE)
	for measure in $(MEASURE); do PAWNVANE_BUILD=$(abspath $(BUILD)) $$measure || exit; done

STRICT = -std=c11 $(CPPFLAGS) $(WARNINGS) -Werror

lint:
	tests/layout
	clang-format --dry-run -Werror $(SOURCES) $(HEADERS)
	mandoc -T lint -W warning $(MANUALS)
	printf '%s\n' $(filter-out tests/install/%,$(SOURCES)) | xargs -P 2 -n 4 sh -c 'clang-tidy --quiet "$$@" -- -std=c11 $(CPPFLAGS) 2>/dev/null' clang-tidy
	printf '%s\n' $(filter-out tests/install/%,$(SOURCES)) | xargs -P 2 -n 8 clang $(STRICT) -fsyntax-only
	@echo "lint: $(words $(SOURCES) $(HEADERS)) files, 0 complaints"

analyse:
	tests/analyse

# Not so: tables are read and not packed; it is wrong about va_start; the C library has no other functions.
CLANG_ANALYSER := -*,clang-analyzer-*,-clang-analyzer-optin.performance.Padding,-clang-analyzer-valist.Uninitialized,-clang-analyzer-security.insecureAPI.*

analyse-by-clang:
	printf '%s\n' $(filter-out tests/install/%,$(SOURCES)) | xargs -P 2 -n 4 sh -c 'clang-tidy --quiet --checks="$(CLANG_ANALYSER)" "$$@" -- -std=c11 $(CPPFLAGS) 2>/dev/null' clang-tidy

pictures: $(BUILD)/pawnvane-bench
	bench/pictures/render $<

INSTALL_REFERENCES = cd tests/reference && npm ci --ignore-scripts --no-audit --no-fund --loglevel=error

# What runs beside each other, the longest first.
REFERENCES := 'node tests/reference/check.mjs $(BUILD) pages' '$(PYTHON) tests/reference/forecast.py $(BUILD)' \
    'node tests/reference/check.mjs $(BUILD) positions fens client census forecasts runs notes' \
    $(patsubst %,'$(PYTHON) % $(BUILD)',$(filter-out %/forecast.py,$(wildcard tests/reference/*.py)))

check-reference: all $(EMITTER)
	$(INSTALL_REFERENCES)
	printf '%s\n' $(REFERENCES) | xargs -P $$(nproc) -I % sh -c %

# The built files come from a build directory of their own unless $(BUILD) is the right one already.
INSTALL_FROM := $(BUILD)$(if $(PORTABLE)$(NATIVE),,/any-machine)

install:
	$(MAKE) BUILD=$(INSTALL_FROM) PORTABLE=$(if $(NATIVE),,1) copy-installed

MANUALS := engine/pawnvane.6 bench/pawnvane-bench.1 structure/pawnstructure.3
MANUAL_GOAL = $(DESTDIR)$(MANDIR)/man$(subst .,,$(suffix $(1)))/$(notdir $(1))

copy-installed: all
	install -d $(DESTDIR)$(BINDIR) $(DESTDIR)$(LIBDIR)/pkgconfig $(DESTDIR)$(INCLUDEDIR)/pawnstructure
	install $(BUILD)/pawnvane $(BUILD)/pawnvane-bench $(DESTDIR)$(BINDIR)
	install -m 644 $(BUILD)/libpawnstructure.a $(BUILD)/libpawnstructure.so.$(VERSION) $(DESTDIR)$(LIBDIR)
	ln -sf libpawnstructure.so.$(VERSION) $(DESTDIR)$(LIBDIR)/$(SONAME)
	ln -sf $(SONAME) $(DESTDIR)$(LIBDIR)/libpawnstructure.so
	install -m 644 structure/structure.h $(DESTDIR)$(INCLUDEDIR)/pawnstructure
	sed 's|@PREFIX@|$(PREFIX)|; s|@LIBDIR@|$(LIBDIR)|; s|@INCLUDEDIR@|$(INCLUDEDIR)|' structure/pawnstructure.pc.in | \
	    sed 's|@VERSION@|$(VERSION)|' >$(DESTDIR)$(LIBDIR)/pkgconfig/pawnstructure.pc
	chmod 644 $(DESTDIR)$(LIBDIR)/pkgconfig/pawnstructure.pc
	$(foreach page,$(MANUALS),install -D -m 644 $(page) $(call MANUAL_GOAL,$(page)) &&) true

uninstall:
	rm -f $(DESTDIR)$(BINDIR)/pawnvane $(DESTDIR)$(BINDIR)/pawnvane-bench
	rm -f $(addprefix $(DESTDIR)$(LIBDIR)/libpawnstructure.,a so so.$(VERSION)) $(DESTDIR)$(LIBDIR)/$(SONAME)
	rm -f $(DESTDIR)$(LIBDIR)/pkgconfig/pawnstructure.pc $(DESTDIR)$(INCLUDEDIR)/pawnstructure/structure.h
	rm -f $(foreach page,$(MANUALS),$(call MANUAL_GOAL,$(page)))
	rmdir $(DESTDIR)$(INCLUDEDIR)/pawnstructure 2>/dev/null || true

# The main job on the shipped data, in under a minute.
demo:
	@$(MAKE) --no-print-directory -s -j2 $(BUILD)/pawnvane-bench
	$(BUILD)/pawnvane-bench explain bench/positions/scenario.epd
	@echo
	@mkdir -p $(BUILD)/demo
	$(BUILD)/pawnvane-bench census bench/games/club-match.pgn --html $(BUILD)/demo/census.html >$(BUILD)/demo/census.txt
	$(BUILD)/pawnvane-bench handout bench/positions/scenario.epd --title 'Three moments of a match' --nodes 30000 \
	    --html $(BUILD)/demo/lesson.html --pgn $(BUILD)/demo/lesson.pgn
	$(BUILD)/pawnvane-bench handout bench/games/club-match.pgn --game 4 --title 'The story of a game' \
	    --nodes 30000 --html $(BUILD)/demo/story.html --pgn $(BUILD)/demo/story.pgn
	$(BUILD)/pawnvane-bench handout bench/positions/scenario.epd --quiz --hide-names --nodes 10000 --html $(BUILD)/demo/quiz.html
	$(BUILD)/pawnvane-bench forecast bench/games/masters.pgn.zst --html $(BUILD)/demo/forecast.html >$(BUILD)/demo/forecast.txt
	@head -n 5 $(BUILD)/demo/forecast.txt
	@echo 'Pages to open and to print: $(BUILD)/demo/census.html, lesson.html, story.html, quiz.html and forecast.html.'
	@echo
	$(BUILD)/pawnvane-bench contrast $(wildcard bench/positions/bratko-kopec.epd bench/positions/structures.epd) --nodes 10000

clean:
	rm -rf $(BUILD)

-include $(shell find $(BUILD) -name '*.d' 2>/dev/null)
