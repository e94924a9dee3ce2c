/* SPDX-License-Identifier: MIT
 * interview: see interview.h. Each answer is written behind the others as soon as it is taken, so that
 * nothing but the line being typed is lost. */
#include "daemon/counter/interview.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <termios.h>
#include <unistd.h>

/* ---- the answers that are kept: a line each, NAME=VALUE ---- */

static void remember(struct interview *interview, const char *name, const char *value)
{
    if (interview->earlier_count == interview->earlier_room) {
        size_t room = interview->earlier_room * 2 + 16;
        void *grown = realloc(interview->earlier, room * sizeof *interview->earlier);
        if (grown == NULL) {
            return; /* it is asked again */
        }
        interview->earlier = grown;
        interview->earlier_room = room;
    }
    struct interview_answer answer = {strdup(name), strdup(value), false};
    if (answer.name != NULL && answer.value != NULL) {
        interview->earlier[interview->earlier_count++] = answer;
    }
}

static void forget(struct interview *interview)
{
    for (size_t i = 0; i < interview->earlier_count; i++) {
        free(interview->earlier[i].name);
        free(interview->earlier[i].value);
    }
    free(interview->earlier);
    interview->earlier = NULL;
    interview->earlier_count = interview->earlier_room = 0;
}

static void load(struct interview *interview)
{
    char line[INTERVIEW_LINE_OCTETS * 2];
    FILE *file = fopen(interview->kept, "re");
    while (file != NULL && fgets(line, sizeof line, file) != NULL) {
        char *equals = strchr(line, '=');
        line[strcspn(line, "\n")] = '\0';
        if (equals != NULL) {
            *equals = '\0';
            remember(interview, line, equals + 1);
        }
    }
    if (file != NULL) {
        (void)fclose(file);
    }
}

/* Given out already or not: it stands in the file. */
static bool is_kept(const struct interview *interview, const char *name, const char *value)
{
    size_t i = 0;
    while (i < interview->earlier_count && (strcmp(interview->earlier[i].name, name) != 0 ||
                                            strcmp(interview->earlier[i].value, value) != 0)) {
        i++;
    }
    return i < interview->earlier_count;
}

void interview_keep(struct interview *interview, const char *name, const char *value)
{
    if (is_kept(interview, name, value)) {
        return;
    }
    int descriptor = open(interview->kept, O_WRONLY | O_APPEND | O_CREAT | O_CLOEXEC | O_NOFOLLOW,
                          S_IRUSR | S_IWUSR); /* telephone numbers */
    FILE *file = descriptor >= 0 ? fdopen(descriptor, "a") : NULL;
    if (file == NULL || fprintf(file, "%s=%s\n", name, value) < 0) {
        (void)fprintf(interview->out, "(this answer cannot be kept in %s: %s)\n", interview->kept,
                      strerror(errno));
    }
    if (file != NULL) {
        (void)fclose(file);
    }
}

/* ---- lines ---- */

#define INTERRUPT '\3'

/* Without it an interrupt is a character as well: it would leave the terminal mute behind. */
static void set_echo(FILE *in, bool on)
{
    const tcflag_t flags = ECHO | ISIG;
    struct termios settings;
    if (isatty(fileno(in)) != 0 && tcgetattr(fileno(in), &settings) == 0) {
        settings.c_lflag = on ? settings.c_lflag | flags : settings.c_lflag & ~flags;
        (void)tcsetattr(fileno(in), TCSANOW, &settings);
    }
}

/* What is typed next, without blanks around it; false at its end, or for "stop". */
static bool read_line(struct interview *interview, bool hidden, char line[INTERVIEW_LINE_OCTETS])
{
    (void)fflush(interview->out);
    if (fgets(line, INTERVIEW_LINE_OCTETS, interview->in) == NULL) {
        (void)fputc('\n', interview->out);
        return false;
    }
    for (int octet = 0; strchr(line, '\n') == NULL && octet != '\n' && octet != EOF;) {
        octet =
            fgetc(interview->in); /* too long: the rest is passed over, and a judge refuses it */
    }
    size_t length = strlen(line), blanks = strspn(line, " \t");
    while (length > blanks && strchr(" \t\r\n", line[length - 1]) != NULL) {
        length--;
    }
    memmove(line, line + blanks, length - blanks);
    line[length - blanks] = '\0';
    if (isatty(fileno(interview->in)) == 0) { /* no terminal has shown it */
        (void)fprintf(interview->out, "%s%s", hidden ? "" : line, hidden ? "" : "\n");
    }
    return strcmp(line, "stop") != 0 && strchr(line, INTERRUPT) == NULL;
}

/* ---- where an answer comes from ---- */

static const char *option(struct interview *interview, const char *name)
{
    const struct options *options = interview->options;
    for (size_t i = 0; i < options->answer_count; i++) {
        if (!interview->option_used[i] && strcmp(options->answers[i].name, name) == 0) {
            interview->option_used[i] = true;
            return options->answers[i].value;
        }
    }
    return NULL;
}

static bool has_option(const struct interview *interview, const char *name)
{
    const struct options *options = interview->options;
    size_t i = 0;
    while (i < options->answer_count && strcmp(options->answers[i].name, name) != 0) {
        i++;
    }
    return i < options->answer_count;
}

/* The next of an earlier start; none where options say it now. */
static const char *earlier(struct interview *interview, const char *name)
{
    for (size_t i = 0; i < interview->earlier_count && !has_option(interview, name); i++) {
        struct interview_answer *answer = &interview->earlier[i];
        if (!answer->given && strcmp(answer->name, name) == 0) {
            answer->given = true;
            return answer->value;
        }
    }
    return NULL;
}

const char *interview_given(struct interview *interview, const char *name)
{
    const char *value = option(interview, name);
    return value != NULL ? value : earlier(interview, name);
}

bool interview_answered(const struct interview *interview, const char *name)
{
    size_t i = 0;
    while (i < interview->earlier_count &&
           (interview->earlier[i].given || strcmp(interview->earlier[i].name, name) != 0)) {
        i++;
    }
    return has_option(interview, name) || i < interview->earlier_count;
}

static bool ends_asking(const char *asks)
{
    return asks[strlen(asks) - 1] == '?';
}

/* The next answer: by option, by an earlier start, as is usual, or typed; NULL once stopped. */
static const char *next_answer(struct interview *interview,
                               const struct interview_question *question,
                               char line[INTERVIEW_LINE_OCTETS], bool *kept_already)
{
    const char *usual = question->usual, *value = option(interview, question->name);
    *kept_already = value == NULL;
    value = value != NULL ? value : earlier(interview, question->name);
    *kept_already = *kept_already && value != NULL;
    if (value == NULL && interview->options->yes) {
        value = usual;
    }
    if (value != NULL) {
        (void)fprintf(interview->out, "%s%s %s\n", question->asks,
                      ends_asking(question->asks) ? "" : ":", value);
        return value;
    }
    if (interview->options->yes) {
        (void)fprintf(interview->out, "%s: --%s says it, and is missing\n", question->asks,
                      question->name);
        return NULL;
    }
    bool shown = usual != NULL && usual[0] != '\0';
    (void)fprintf(interview->out, "%s%s%s%s%s ", question->asks, shown ? " [" : "",
                  shown ? usual : "", shown ? "]" : "", ends_asking(question->asks) ? "" : ":");
    if (question->hidden) {
        set_echo(interview->in, false);
    }
    bool typed = read_line(interview, question->hidden, line);
    if (question->hidden) {
        set_echo(interview->in, true);
        (void)fputc('\n', interview->out);
    }
    return !typed ? NULL : line[0] == '\0' && usual != NULL ? usual : line;
}

bool interview_ask(struct interview *interview, const struct interview_question *question,
                   interview_judge *judge, void *ctx)
{
    char line[INTERVIEW_LINE_OCTETS], says[INTERVIEW_SAYS_OCTETS];
    bool kept_already = false;
    while (!interview->stopped) {
        const char *value = next_answer(interview, question, line, &kept_already);
        bool empty = value != NULL && value[0] == '\0' && question->usual == NULL;
        if (value == NULL) {
            interview->stopped = true;
        } else if (empty) {
            (void)fprintf(interview->out, "  an answer is needed here; \"stop\" stops\n");
        } else if (judge(ctx, question->name, value, says)) {
            if (!kept_already && !question->fleeting) {
                interview_keep(interview, question->name, value);
            }
            return true;
        } else {
            (void)fprintf(interview->out, "  %s\n", says);
            /* what is usual would be refused for ever */
            interview->stopped = interview->options->yes;
        }
    }
    return false;
}

static bool take_line(void *ctx, const char *name, const char *value,
                      char says[INTERVIEW_SAYS_OCTETS])
{
    (void)name;
    (void)says;
    (void)snprintf(ctx, INTERVIEW_LINE_OCTETS, "%s", value);
    return true;
}

bool interview_line(struct interview *interview, const struct interview_question *question,
                    char answer[INTERVIEW_LINE_OCTETS])
{
    return interview_ask(interview, question, take_line, answer);
}

bool interview_none(const char *answer)
{
    return answer[0] == '\0' || strcasecmp(answer, "none") == 0;
}

bool interview_yes(struct interview *interview, const char *asks, bool usual)
{
    char line[INTERVIEW_LINE_OCTETS];
    while (!interview->stopped) {
        (void)fprintf(interview->out, "%s [%s]: ", asks, usual ? "yes" : "no");
        if (interview->options->yes) {
            (void)fputs("yes\n", interview->out);
            return true;
        }
        if (!read_line(interview, false, line)) {
            interview->stopped = true;
        } else if (line[0] == '\0') {
            return usual;
        } else if (strcasecmp(line, "yes") == 0 || strcasecmp(line, "y") == 0) {
            return true;
        } else if (strcasecmp(line, "no") == 0 || strcasecmp(line, "n") == 0) {
            return false;
        } else {
            (void)fprintf(interview->out, "  yes or no, please; \"stop\" stops\n");
        }
    }
    return false;
}

/* ---- beginning and end ---- */

void interview_begin(struct interview *interview, const struct options *options, const char *file,
                     FILE *in, FILE *out)
{
    *interview = (struct interview){.in = in, .out = out, .options = options};
    (void)snprintf(interview->kept, sizeof interview->kept, "%s.answers", file);
    load(interview);
    if (interview->earlier_count == 0) {
        return;
    }
    (void)fprintf(out, "These answers were kept when setup stopped:\n");
    for (size_t i = 0; i < interview->earlier_count; i++) {
        (void)fprintf(out, "  %s: %s\n", interview->earlier[i].name, interview->earlier[i].value);
    }
    if (!interview_yes(interview, "Go on from there?", true) && !interview->stopped) {
        forget(interview);
        (void)unlink(interview->kept);
    }
}

void interview_end(struct interview *interview, bool done)
{
    if (done) {
        (void)unlink(interview->kept);
    } else if (access(interview->kept, F_OK) == 0) {
        (void)fprintf(
            interview->out,
            "Stopped. The answers so far are kept in %s: \"meterpost setup\" goes on from "
            "there.\n",
            interview->kept);
    }
    forget(interview);
}
