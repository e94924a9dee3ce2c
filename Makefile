# meterpost: build, test, demo, install. `make help` says what there is.
# Everything built lies in $(BUILD); nothing is written beside the sources.

PREFIX  ?= /usr/local
DESTDIR ?=
SYSCONFDIR ?= /etc
CFLAGS  ?= -O2 -g
# SAN=address,undefined builds with those sanitizers, in a folder of its own.
SAN     ?=
# What runs while building is compiled for the machine that builds.
HOSTCC  ?= cc
PKG_CONFIG ?= pkg-config
BUILD   ?= build$(if $(SAN),/sanitized)

# -Wformat=2: nothing that somebody said is ever a format.
WARNINGS  := -Wall -Wextra -Wpedantic -Wconversion -Wshadow -Wformat=2 -Wno-format-y2k
# `make test` makes a warning an error; a compiler newer than the code should not stop a user.
WERROR    ?=
HARDENING := $(if $(SAN),,-D_FORTIFY_SOURCE=2) -fstack-protector-strong -fPIE
SANITIZE  := $(if $(SAN),-fsanitize=$(SAN) -fno-sanitize-recover=all -fno-omit-frame-pointer)
PACKAGES  := libserialport sqlite3 libconfig json-c
# Asked for when a recipe runs, so that `make test` can install first.
PKG_CFLAGS = $(shell $(PKG_CONFIG) --cflags $(PACKAGES))
PKG_LIBS   = $(shell $(PKG_CONFIG) --libs $(PACKAGES)) -lm
# Where `long` and time_t have 32 bits by default, times run on beyond 2038.
WIDE      := -D_FILE_OFFSET_BITS=64 -D_TIME_BITS=64
COMPILE    = $(CC) -std=c11 -D_GNU_SOURCE $(WIDE) -I. -I$(BUILD) $(CFLAGS) $(HARDENING) $(SANITIZE) $(WARNINGS) $(WERROR)
LINK       = $(CC) $(CFLAGS) $(SANITIZE) $(LDFLAGS) -pie -Wl,-z,relro,-z,now

# The program is everything but its main; tests link the same objects.
MAIN          := daemon/main.c
SOURCES       := $(filter-out $(MAIN),$(wildcard parsers/*.c config/*.c daemon/*.c daemon/*/*.c))
STANDIN       := $(wildcard fixtures/standin/*.c)
CONDUCTOR     := $(wildcard fixtures/conductor/*.c)
PLAYER        := $(wildcard fixtures/player/*.c fixtures/disk/*.c)
DEMO          := $(wildcard fixtures/demo/*.c)
TESTS         := $(wildcard tests/*_test.c)
BENCH         := $(wildcard tests/bench/*.c)
DICTIONARY    := fixtures/dictionary/dictionary.c $(wildcard parsers/words_*.c)
# The flags for hardening are looked for on the program that is installed, not on one with sanitizers.
TEST_SCRIPTS  := $(filter-out $(if $(SAN),tests/binary_test.sh),$(wildcard tests/*_test.sh))
object         = $(patsubst %.c,$(BUILD)/%.o,$(1))
FUZZ          := $(wildcard tests/fuzz/*_fuzz.c)
TEST_PROGRAMS := $(patsubst tests/%.c,$(BUILD)/tests/%,$(TESTS)) \
                 $(patsubst tests/fuzz/%_fuzz.c,$(BUILD)/tests/%_replay,$(FUZZ))
PROGRAMS      := $(BUILD)/meterpost $(if $(STANDIN),$(BUILD)/standin-modem) $(if $(DEMO),$(BUILD)/demo)
ALL_C         := $(SOURCES) $(MAIN) $(STANDIN) $(CONDUCTOR) $(PLAYER) $(DEMO) $(TESTS) $(BENCH) \
                 $(wildcard tests/fuzz/*.c fixtures/steps/*.c fixtures/read_only/*.c fixtures/dictionary/*.c)
ALL_H         := $(wildcard parsers/*.h config/*.h daemon/*.h daemon/*/*.h fixtures/*/*.h tests/*.h \
                 tests/*/*.h tests/analyse/*.c)

all: $(PROGRAMS) ## builds meterpost and the stand-in modem into build/

# The two commands of the README: they install what is missing, then do the work in a make of its
# own, since only then can pkg-config be asked.
AGAIN := $(MAKE) $(if $(V),,-s) --no-print-directory -j$(shell nproc)
# What is compiled is said in a word; V=1 shows the whole commands.
V     ?=
Q     := $(if $(V),,@)
TELL   = $(if $(V),,@echo '  $(1) $@')
MINUTE = @[ -x $(BUILD)/demo ] || echo 'building: a minute or two the first time'
demo: ## installs what is missing, builds, plays weeks of an invented yard
	@sh config/packages.sh build
	$(MINUTE)
	@$(AGAIN) all
	@$(BUILD)/demo

try: ## type texts as any of the crew and read the replies; CONF=my.conf: in your own yard
	@sh config/packages.sh build
	$(MINUTE)
	@$(AGAIN) all
	@$(BUILD)/demo --try $(CONF)

# General tools of the web, for tests that look at pages and calendars where a browser and node are.
NPM := build/npm/node_modules/axe-core/axe.min.js
$(NPM):
	@mkdir -p build/npm
	@npm install --prefix build/npm --no-save --no-audit --no-fund --ignore-scripts --loglevel=error \
	    axe-core@4.14.1 >/dev/null

screens: ## the pictures of the board in docs/screens; installs chromium, and axe-core for the tests
	@sh config/packages.sh build browser
	@$(AGAIN) $(NPM) all
	@METERPOST_BUILD=$(BUILD) sh tests/prove/screens.sh

test: ## installs what is missing; lint, all tests with sanitizers, all tests
	@sh config/packages.sh build test
	@if command -v chromium >/dev/null && command -v npm >/dev/null; then $(AGAIN) $(NPM) || true; fi
	@$(AGAIN) lint
	@$(AGAIN) check WERROR=-Werror SAN=address,undefined
	@$(AGAIN) check WERROR=-Werror

$(BUILD)/meterpost: $(call object,$(MAIN)) $(BUILD)/libmeterpost.a
	$(call TELL,link)
	$(Q)$(LINK) -o $@ $^ $(PKG_LIBS)

$(BUILD)/libmeterpost.a: $(call object,$(SOURCES))
	@rm -f $@
	$(call TELL,ar  )
	$(Q)$(AR) rcs $@ $^

$(BUILD)/standin-modem: $(call object,$(STANDIN)) $(BUILD)/libmeterpost.a
	$(call TELL,link)
	$(Q)$(LINK) -o $@ $^

$(BUILD)/demo: $(call object,$(DEMO) $(CONDUCTOR)) $(BUILD)/libmeterpost.a
	$(call TELL,link)
	$(Q)$(LINK) -o $@ $^ $(PKG_LIBS)

$(BUILD)/tests/%: $(BUILD)/tests/%.o $(call object,$(CONDUCTOR) $(PLAYER)) $(BUILD)/libmeterpost.a
	$(call TELL,link)
	$(Q)$(LINK) -o $@ $^ $(PKG_LIBS) $$($(PKG_CONFIG) --libs cmocka)

# Our own allocations go through this test, which lets them fail.
$(BUILD)/tests/memory_short_test: LINK += $(patsubst %,-Wl$(comma)--wrap=%,malloc calloc realloc strdup open_memstream fmemopen)
comma := ,

# A fuzz target as an ordinary test: the inputs that were kept, and a few bred from them.
$(BUILD)/tests/%_replay: $(BUILD)/tests/fuzz/%_fuzz.o $(BUILD)/tests/fuzz/replay.o $(BUILD)/libmeterpost.a
	$(call TELL,link)
	$(Q)$(LINK) -o $@ $^ $$($(PKG_CONFIG) --libs cmocka)

$(BUILD)/%.o: %.c
	@mkdir -p $(@D)
	$(call TELL,cc  )
	$(Q)$(COMPILE) $(PKG_CFLAGS) -MMD -MP -c -o $@ $<

# The schema is compiled in as bytes: one readable file, no second copy to keep in step.
$(BUILD)/schema.inc: daemon/ledger/schema.sql
	@mkdir -p $(@D)
	od -An -v -tx1 $< | sed 's/ \([0-9a-f][0-9a-f]\)/0x\1,/g' > $@
$(BUILD)/daemon/ledger/migrations.o: $(BUILD)/schema.inc

# So is the sample config, which is what `setup` fills in.
$(BUILD)/sample.inc: config/meterpost.conf
	@mkdir -p $(@D)
	od -An -v -tx1 $< | sed 's/ \([0-9a-f][0-9a-f]\)/0x\1,/g' > $@
$(BUILD)/config/settings_sample.o: $(BUILD)/sample.inc

# So are the words of all languages, as one tree of letters.
$(BUILD)/parsers/words_dictionary.inc: $(DICTIONARY) parsers/words.h parsers/words_tables.h
	@mkdir -p $(@D)
	$(HOSTCC) -std=c11 -I. -o $(BUILD)/make-dictionary $(DICTIONARY)
	$(BUILD)/make-dictionary > $@
$(BUILD)/parsers/words.o: $(BUILD)/parsers/words_dictionary.inc

# Tests run from the top folder; the last line is the totals of them all.
PROVERS := $(BUILD)/crash-storm $(BUILD)/flood $(BUILD)/steps.so $(BUILD)/read-only.so
check: all $(TEST_PROGRAMS) $(PROVERS) ## the tests alone, nothing is installed
	@METERPOST_BUILD=$(BUILD) sh tests/run.sh $(TEST_PROGRAMS) $(TEST_SCRIPTS)

# Benches are no part of the tests.
$(BUILD)/yard-bench: $(call object,$(wildcard tests/bench/yard*.c)) $(BUILD)/libmeterpost.a
	$(LINK) -o $@ $^ $(PKG_LIBS)

bench-yard: $(BUILD)/yard-bench ## what ten years of readings cost, a thousand machines
	$(BUILD)/yard-bench

bench-import: all ## time and memory of an import of 100,000 rows beside the running daemon
	METERPOST_BUILD=$(BUILD) python3 tests/bench/import_bench.py

bench-due: all ## time and memory of `due` over 2.5 million readings
	METERPOST_BUILD=$(BUILD) python3 tests/bench/due_bench.py

bench-box: all $(BUILD)/line-bench ## what one box carries: texts a modem, growth of the ledger, `due` by machines and years
	METERPOST_BUILD=$(BUILD) python3 tests/bench/box_bench.py

$(BUILD)/season-bench: $(call object,$(wildcard tests/bench/season*.c)) $(BUILD)/libmeterpost.a
	$(LINK) -o $@ $^ $(PKG_LIBS)

SEED  ?= 20270314
SEEDS ?= 5
bench-season: $(BUILD)/season-bench ## how good the forecast is, over invented seasons of SEEDS=5 seeds
	$(BUILD)/season-bench $(SEED) $(SEEDS)

# Loaded into the daemon by the storm, before the system's own library: of no sanitizer's making.
$(BUILD)/steps.so: fixtures/steps/steps.c fixtures/steps/steps.h
	@mkdir -p $(@D)
	$(CC) -std=c11 -D_GNU_SOURCE -I. $(WARNINGS) -O2 -fPIC -shared -o $@ $<

$(BUILD)/read-only.so: fixtures/read_only/read_only.c
	@mkdir -p $(@D)
	$(CC) -std=c11 -D_GNU_SOURCE -I. $(WARNINGS) -O2 -fPIC -shared -o $@ $<

$(BUILD)/crash-storm: $(call object,tests/bench/crash_storm.c $(CONDUCTOR)) $(BUILD)/libmeterpost.a
	$(LINK) -o $@ $^ $(PKG_LIBS)

KILLS ?= 1000
KILLS_OF_TWO ?= 250 # kills and deaths where there are two modems
crash: all $(BUILD)/crash-storm $(BUILD)/steps.so $(BUILD)/tests/power_loss_test ## kills the daemon KILLS=1000 times; faults at every call to the disk
	METERPOST_BUILD=$(BUILD) $(BUILD)/crash-storm $(KILLS)
	METERPOST_BUILD=$(BUILD) $(BUILD)/crash-storm $(KILLS_OF_TWO) 20270304 2
	POWER_LOSS=all $(BUILD)/tests/power_loss_test

$(BUILD)/flood: $(call object,$(wildcard tests/bench/flood*.c) $(CONDUCTOR)) $(BUILD)/libmeterpost.a
	$(LINK) -o $@ $^ $(PKG_LIBS)

TEXTS ?= 20000
flood: all $(BUILD)/flood ## TEXTS=20000 texts of strangers and members: memory, caps, growth
	METERPOST_BUILD=$(BUILD) $(BUILD)/flood $(TEXTS)

$(BUILD)/line-bench: $(call object,tests/bench/line_bench.c $(CONDUCTOR)) $(BUILD)/libmeterpost.a
	$(LINK) -o $@ $^ $(PKG_LIBS)

bench-line: all $(BUILD)/line-bench ## an answer at 115200 bit/s, against the line alone
	METERPOST_BUILD=$(BUILD) $(BUILD)/line-bench

bench-syncs: $(BUILD)/tests/power_loss_test ## syncs to the disk that a text and its answer take
	POWER_LOSS=syncs $<

bench-wear: $(BUILD)/tests/wear_test ## octets written to the disk for a text and its answer
	METERPOST_BUILD=$(BUILD) $<

$(BUILD)/slip-bench: $(call object,tests/bench/slip_bench.c tests/bench/season.c tests/bench/season_texts.c) $(BUILD)/libmeterpost.a
	$(LINK) -o $@ $^ $(PKG_LIBS) -lm

bench-slip: $(BUILD)/slip-bench ## what becomes of slips of the hand, over invented seasons
	$(BUILD)/slip-bench

$(BUILD)/replies: $(call object,tests/bench/replies.c) $(BUILD)/libmeterpost.a
	$(LINK) -o $@ $^ $(PKG_LIBS)

replies: $(BUILD)/replies ## every reply in every language with its length, for reading aloud
	@$(BUILD)/replies

year: $(BUILD)/tests/year_test all ## plays the year of fixtures/year and writes its story anew
	@YEAR_WRITE=1 $(BUILD)/tests/year_test

$(BUILD)/texts-bench: $(call object,tests/bench/texts_bench.c) $(BUILD)/libmeterpost.a
	$(LINK) -o $@ $^

bench: $(BUILD)/texts-bench ## how fast texts are read and written, beside libosmocore
	$(BUILD)/texts-bench

lint: $(BUILD)/schema.inc $(BUILD)/sample.inc $(BUILD)/parsers/words_dictionary.inc ## layout, and warnings of gcc and clang
	@sh tests/lint.sh $(ALL_C) -- $(ALL_H)

INSTALL = PREFIX='$(PREFIX)' DESTDIR='$(DESTDIR)' SYSCONFDIR='$(SYSCONFDIR)' BUILD='$(BUILD)' \
          sh config/install.sh

install: $(BUILD)/meterpost ## program, manual pages, documents, sample config, service unit, udev rule, user
	@$(INSTALL) install

uninstall: ## takes them away again; leaves config and ledger
	@$(INSTALL) uninstall

# What is for Debian boxes; docs/guide.md says what each of them needs.
deb: ## a Debian package in build/deb, looked at by lintian
	@sh config/packages.sh build package
	@sh config/deb.sh

arms: ## for arm64 and armhf: tests and demo under emulation, and the packages
	@sh config/packages.sh arms
	@sh tests/box/arms.sh

box: ## boots the package in an emulated box and tries what happens to one; BEFORE=older.deb TRY="moved reload"
	@sh config/packages.sh build package box
	@$(AGAIN) $(BUILD)/standin-modem
	@BEFORE='$(BEFORE)' TRY='$(TRY)' sh tests/box/box.sh

# Proofs of the parsers; docs/proofs.md says what each of them shows.
fuzz: SECONDS ?= 60
fuzz: ## each fuzz target for SECONDS (60)
coverage: ## every line and branch of parsers/ is tested
analyse: ## analyzers of gcc and clang, and a sound one, over parsers/
fuzz coverage analyse:
	@sh config/packages.sh build test proof
	@METERPOST_BUILD=$(BUILD) FUZZ_SECONDS=$(SECONDS) sh tests/prove/$@.sh

.PHONY: house-figures
house-figures: ## files, functions and their callers a room; what one text passes
	@sh config/packages.sh build proof
	@sh tests/house_figures.sh

clean: ## removes build/
	rm -rf build

help: ## this list
	@sed -n 's/^\([a-z-]*\):[^#]*## \(.*\)/  make \1\t\2/p' $(firstword $(MAKEFILE_LIST)) | expand -t 22
	@echo '  settings: PREFIX DESTDIR SYSCONFDIR CC HOSTCC CFLAGS BUILD SAN CONF V'

.SECONDARY:
.PHONY: all demo try screens test check crash flood replies year bench-due bench-import bench-line bench-season bench-slip bench-syncs bench-wear bench-yard lint \
        install uninstall deb arms box fuzz coverage analyse bench clean help
.DELETE_ON_ERROR:
-include $(patsubst %.o,%.d,$(call object,$(ALL_C)))
