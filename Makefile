# Pawnvane. Everything that is built goes below $(BUILD).
#
#   make            the engine, the harness and the structure library
#   make demo       build, then the main job on the shipped positions
#   make test       build, then every test program
#   make bench      timings: nodes a second, perft, move ordering
#   make lint       clang-format, clang-tidy
#   make check-reference   comparisons with independent libraries (needs Node.js)
#
# PORTABLE=1 leaves out -march=native; CC=clang works; BUILD=dir builds elsewhere.

BUILD    ?= build
PREFIX   ?= /usr/local
CC       ?= cc
ifeq ($(origin CC),default)
CC       := gcc
endif

WARNINGS := -Wall -Wextra -Wpedantic -Wshadow -Wconversion
OPTIMISE ?= -O3 $(if $(PORTABLE),,-march=native)
CPPFLAGS += -D_GNU_SOURCE -I. $(DEFINES)
CFLAGS   += -std=c11 $(WARNINGS) $(OPTIMISE) $(SANITIZE) -pthread -fPIC -MMD -MP
LDFLAGS  += $(SANITIZE) -pthread
BENCH_LIBS := -lsqlite3 -lcjson -lz -lm
TEST_LIBS  := -lcmocka

objects = $(patsubst %.c,$(BUILD)/%.o,$(1))
STRUCTURE := $(call objects,$(wildcard structure/*.c))
ENGINE    := $(call objects,$(filter-out engine/main.c,$(wildcard engine/*.c)))
HARNESS   := $(call objects,$(filter-out bench/main.c,$(wildcard bench/*.c)))
TESTS     := $(patsubst tests/%.c,$(BUILD)/tests/%,$(wildcard tests/test_*.c))

.PHONY: all demo test test-sanitized bench lint check-reference clean install
.DELETE_ON_ERROR:
.SECONDARY:

all: $(BUILD)/pawnvane $(BUILD)/pawnvane-bench $(BUILD)/libpawnstructure.a $(BUILD)/libpawnstructure.so

$(BUILD)/%.o: %.c
	@mkdir -p $(@D)
	$(CC) $(CPPFLAGS) $(CFLAGS) -c $< -o $@

$(BUILD)/libpawnstructure.a: $(STRUCTURE)
	rm -f $@ && ar rcs $@ $^

$(BUILD)/libpawnstructure.so: $(STRUCTURE)
	$(CC) $(LDFLAGS) -shared $^ -o $@

$(BUILD)/pawnvane: $(BUILD)/engine/main.o $(ENGINE) $(STRUCTURE)
	$(CC) $(CFLAGS) $(LDFLAGS) $^ -o $@

$(BUILD)/pawnvane-bench: $(BUILD)/bench/main.o $(HARNESS) $(ENGINE) $(STRUCTURE)
	$(CC) $(CFLAGS) $(LDFLAGS) $^ $(BENCH_LIBS) -o $@

$(BUILD)/tests/test_%: $(BUILD)/tests/test_%.o $(HARNESS) $(ENGINE) $(STRUCTURE)
	$(CC) $(CFLAGS) $(LDFLAGS) $^ $(TEST_LIBS) $(BENCH_LIBS) -o $@

clean:
	rm -rf $(BUILD)

-include $(shell find $(BUILD) -name '*.d' 2>/dev/null)
