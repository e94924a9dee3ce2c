/* SPDX-License-Identifier: MIT
 * options: what stands beside a verb on the command line. Every verb takes the same ones; each says
 * which it can use. */
#ifndef METERPOST_DAEMON_COUNTER_OPTIONS_H
#define METERPOST_DAEMON_COUNTER_OPTIONS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#define OPTIONS_CONFIG_FILE "/etc/meterpost.conf"

#define OPTIONS_CONFIGS_MAX 32
#define OPTIONS_GIVEN_MAX 16
#define OPTIONS_ANSWERS_MAX 64

/* setup: an answer given beside the verb, by the option's name. */
struct options_answer {
    const char *name, *value;
};

struct options {
    const char *config;                       /* the first */
    const char *configs[OPTIONS_CONFIGS_MAX]; /* those that -c names, a shop each */
    size_t config_count;                      /* 0: -c was left out */
    bool json, csv;
    const char *now;       /* RFC 3339 as given, NULL: the box's clock */
    const char *as;        /* a person's name, NULL unsaid */
    const char *for_whom;  /* sheet: a person's name, NULL unsaid */
    bool page;             /* sheet, machine: a page (HTML) to print */
    const char *from, *to; /* hours: the first and the last day, NULL unsaid */
    const char *by;        /* hours: machine, site, crew or owner, NULL unsaid */
    const char *send;      /* modem: the number a trial goes to, NULL unsaid */
    int days;              /* how far a list or a plan reaches, 0 unsaid */
    bool history;          /* machine: the whole record */
    bool apply;            /* import: do it */
    const char *columns;   /* import: "machine=Unit,hours=Reading", NULL unsaid */
    bool wall;             /* board: the form for the wall */
    int keep;              /* backup: how many copies stay in the folder, 0 unsaid */
    bool metrics;          /* health: as figures for monitoring */
    bool used;             /* stock: what was used alone */
    bool yes;              /* setup: asks nothing */
    struct options_answer answers[OPTIONS_ANSWERS_MAX];
    size_t answer_count;
    int stepped_clock; /* the conductor's socket, -1: the real clock */
    bool debug;
    bool help, version;
    unsigned char given[OPTIONS_GIVEN_MAX]; /* which, for options_not_taken */
    size_t given_count;
    int word_count; /* what is no option */
    char **words;
};

/* Reads argv behind its first word; options stand anywhere, and "--" ends them. False after saying on
 * err what is wrong and what to type. words point into argv, which is reordered. */
bool options_read(struct options *options, int argc, char **argv, FILE *err);

/* The name of the first option given that a verb of that usage does not take; NULL where it takes them
 * all. What would do nothing is said, not passed over. */
const char *options_not_taken(const struct options *options, const char *usage);

/* For after a config file could not be loaded: where it is not there and -c was left out, says that
 * it is the default, and how to name another. */
void options_say_config(const struct options *options, FILE *err);

/* A line for each option that stands in a verb's usage, and what it does. */
void options_explain(const char *usage, FILE *out);

#endif
