/* SPDX-License-Identifier: MIT
 * paper: see paper.h. */
#include "daemon/counter/paper.h"

#include "daemon/counter/paper.h"

#include <stdlib.h>
#include <string.h>
#include <sysexits.h>

#include "daemon/board/board.h"

#define TEXT_COLUMNS 78  /* of plain text */
#define PAGE_COLUMNS 100 /* about as many letters go on a line of the page */
/* Lines that a sheet takes, about, at each size of type (the smaller of A4 and Letter). */
#define LINES_LARGE 50
#define LINES_MIDDLE 58
#define LINE_OCTETS 1024
#define BLANK_GAP 4

static const char page_style[] =
    "@page{margin:14mm 15mm}\n"
    "*{box-sizing:border-box}\n"
    "body{margin:0 auto;max-width:48rem;padding:1rem;background:#fff;color:#000;"
    "font:10pt/1.3 system-ui,sans-serif;overflow-wrap:anywhere}\n"

    "h1{font-size:1.5em;margin:0 0 .3em}h2{font-size:1.1em;margin:.7em 0 .2em;"
    "border-bottom:1px solid #000;break-after:avoid}\n"
    "dl{display:grid;grid-template-columns:max-content 1fr;gap:0 1em;margin:0}"
    "dt{font-weight:700}dd{margin:0}\n"
    "ul{list-style:none;margin:0;padding:0}li{display:grid;grid-template-columns:3.6em 1fr;"
    "break-inside:avoid}\n"
    "p{margin:.2em 0}.typed{font-family:monospace;font-weight:700}\n"
    ".box{display:inline-block;width:.9em;height:.9em;border:1px solid #000;vertical-align:-.1em}\n"
    ".row{display:flex;flex-wrap:wrap;gap:.5em 1.5em;margin:.5em 0;align-items:flex-end}"
    ".row span{display:flex;align-items:flex-end;gap:.4em;flex:0 1 auto}"
    ".row .wide{flex:1 1 100%}.row i{border-bottom:1px solid #000;min-width:5em;height:1.4em;"
    "flex:1}\n"
    ".middle{font-size:9pt;line-height:1.25}.small{font-size:8pt;line-height:1.2}"
    ".small h2{margin-top:.4em}.small .row{margin:.25em 0}\n"
    "table{border-collapse:collapse;width:100%}th,td{text-align:left;vertical-align:top;"
    "padding:.1em .6em .1em 0;border-bottom:1px solid #999}td.figure,th.figure{text-align:right}"
    "tr{break-inside:avoid}thead{display:table-header-group}\n"
    "@media print{body{max-width:none;padding:0}}\n";

bool paper_begin(struct paper *paper, const char *lang, const char *title, FILE *out)
{
    *paper = (struct paper){.out = out, .lang = lang, .title = title, .body = out, .closes = ""};
    if (lang != NULL) {
        paper->body = open_memstream(&paper->octets, &paper->octet_count);
        paper->lines = 3; /* the title */
    } else {
        (void)fprintf(out, "%s\n", title);
    }
    return paper->body != NULL;
}

/* So many letters fill so many lines of the page. */
static void count_lines(struct paper *paper, const char *text)
{
    paper->lines += 1 + width_of(text) / PAGE_COLUMNS;
}

/* Ends a list that is open and is not this one; "" opens none. */
static void enter(struct paper *paper, const char *opens, const char *closes)
{
    if (paper->lang == NULL || strcmp(paper->closes, closes) == 0) {
        return;
    }
    (void)fprintf(paper->body, "%s%s", paper->closes, opens);
    paper->closes = closes;
}

static void element(struct paper *paper, const char *opens, const char *text, const char *closes)
{
    (void)fputs(opens, paper->body);
    html_text(paper->body, text);
    (void)fputs(closes, paper->body);
}

/* Words folded at the width of plain text, the lines after the first set in below the first word. */
static void print_folded(struct paper *paper, const char *lead, const char *text)
{
    char line[LINE_OCTETS];
    if (snprintf(line, sizeof line - 1, "%s%s", lead, text) < 0) {
        return;
    }
    size_t used = strlen(line);
    memcpy(line + used, "\n", 2);
    screen_print_folded(&(struct screen){.columns = TEXT_COLUMNS}, line, width_of(lead),
                        paper->body);
}

int paper_end(struct paper *paper)
{
    if (paper->lang == NULL) {
        return EX_OK;
    }
    enter(paper, "", "");
    bool whole = fclose(paper->body) == 0;
    if (whole) {
        (void)fprintf(paper->out,
                      "<!DOCTYPE html>\n<html lang=\"%s\">\n<head>\n<meta charset=\"utf-8\">\n"
                      "<meta name=\"viewport\" content=\"width=device-width\">\n<title>",
                      paper->lang);
        html_text(paper->out, paper->title);
        (void)fprintf(paper->out,
                      "</title>\n<style>\n%s</style>\n</head>\n<body class=\"%s\">\n<main>\n<h1>",
                      page_style,
                      paper->lines <= LINES_LARGE    ? "large"
                      : paper->lines <= LINES_MIDDLE ? "middle"
                                                     : "small");
        html_text(paper->out, paper->title);
        (void)fprintf(paper->out, "</h1>\n%s</main>\n</body>\n</html>\n", paper->octets);
    }
    free(paper->octets);
    return whole ? EX_OK : EX_OSERR;
}

void paper_fact(struct paper *paper, const char *label, const char *text)
{
    char lead[LINE_OCTETS];
    if (paper->lang != NULL) {
        enter(paper, "<dl>\n", "</dl>\n");
        element(paper, "<dt>", label, "</dt>");
        element(paper, "<dd>", text, "</dd>\n");
        count_lines(paper, text);
        return;
    }
    size_t width = width_of(label);
    (void)snprintf(lead, sizeof lead, "%s%*s", label, (int)(width < 16 ? 18 - width : 2), "");
    print_folded(paper, lead, text);
}

void paper_heading(struct paper *paper, const char *text)
{
    if (paper->lang != NULL) {
        enter(paper, "", "");
        element(paper, "<h2>", text, "</h2>\n");
        paper->lines += 2;
        return;
    }
    (void)fprintf(paper->body, "\n%s\n", text);
}

void paper_words(struct paper *paper, const char *text)
{
    if (paper->lang != NULL) {
        enter(paper, "", "");
        element(paper, "<p>", text, "</p>\n");
        count_lines(paper, text);
        return;
    }
    print_folded(paper, "", text);
}

void paper_item(struct paper *paper, const char *mark, const char *text)
{
    char lead[64];
    if (paper->lang == NULL) {
        (void)snprintf(lead, sizeof lead, "  %s  ", mark);
        print_folded(paper, lead, text);
        return;
    }
    bool ticked = strncmp(mark, "[ ]", 3) == 0;
    enter(paper, "<ul>\n", "</ul>\n");
    (void)fputs(ticked ? "<li><span><span class=\"box\"></span> " : "<li><span>", paper->body);
    html_text(paper->body, ticked ? &mark[3] : mark);
    element(paper, "</span><span>", text, "</span></li>\n");
    count_lines(paper, text);
}

void paper_typed(struct paper *paper, const char *text)
{
    if (paper->lang != NULL) {
        enter(paper, "", "");
        element(paper, "<p class=\"typed\">", text, "</p>\n");
        count_lines(paper, text);
        return;
    }
    print_folded(paper, "    ", text);
}

void paper_table(struct paper *paper, const struct table *table)
{
    if (paper->lang != NULL) {
        enter(paper, "", "");
        table_print_page(table, paper->body);
        paper->lines += table_rows(table) + 1;
        return;
    }
    (void)table_print_last(table, &(struct screen){.columns = TEXT_COLUMNS}, SIZE_MAX, paper->body);
}

/* "Date ________ " or "left [ ]", as plain text. */
static void write_blank(const struct paper_blank *blank, char room[LINE_OCTETS])
{
    char line[TEXT_COLUMNS + 1];
    size_t columns = blank->columns < TEXT_COLUMNS ? blank->columns : TEXT_COLUMNS;
    memset(line, '_', columns);
    line[columns] = '\0';
    (void)snprintf(room, LINE_OCTETS, "%s%s%s%s%s", blank->label,
                   blank->label[0] != '\0' ? " " : "", columns > 0 ? line : "[ ]",
                   blank->unit[0] != '\0' ? " " : "", blank->unit);
}

static void print_blanks(struct paper *paper, const struct paper_blank *blanks, size_t count)
{
    char one[LINE_OCTETS];
    size_t used = 0;
    for (size_t i = 0; i < count; i++) {
        write_blank(&blanks[i], one);
        size_t width = width_of(one);
        if (used > 0 && used + BLANK_GAP + width > TEXT_COLUMNS) {
            (void)fputc('\n', paper->body);
            used = 0;
        }
        size_t gap = used > 0 ? BLANK_GAP : 2;
        (void)fprintf(paper->body, "%*s%s", (int)gap, "", one);
        used += gap + width;
    }
    (void)fputc('\n', paper->body);
}

void paper_blanks(struct paper *paper, const struct paper_blank *blanks, size_t count)
{
    if (paper->lang == NULL) {
        print_blanks(paper, blanks, count);
        return;
    }
    enter(paper, "", "");
    (void)fputs("<div class=\"row\">", paper->body);
    for (size_t i = 0; i < count; i++) {
        bool wide = count == 1 && blanks[i].columns > 0;
        element(paper, wide ? "<span class=\"wide\">" : "<span>", blanks[i].label, "");
        (void)fputs(blanks[i].columns > 0 ? "<i></i>" : "<span class=\"box\"></span>", paper->body);
        element(paper, "", blanks[i].unit, "</span>");
    }
    (void)fputs("</div>\n", paper->body);
    paper->lines += 2;
}
