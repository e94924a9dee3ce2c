/* SPDX-License-Identifier: MIT
 * crew_text for the sound analyser: any octets up to and past the longest text, against a yard of any
 * names.
 * eva: -eva-precision 0 -eva-plevel 600 */
#include <__fc_builtin.h>

#include "parsers/crew_text_items.h"

#define MACHINES 3

struct any_name {
    char octets[CREW_NAME_OCTETS_MAX + 1]; /* the last stays NUL */
};

static struct any_name any_names[MACHINES + 2];
static char any_title[CREW_TITLE_OCTETS_MAX + 1]; /* the last stays NUL */

static void make_names(void)
{
    Frama_C_make_unknown(any_names[0].octets, CREW_NAME_OCTETS_MAX);
    Frama_C_make_unknown(any_names[1].octets, CREW_NAME_OCTETS_MAX);
    Frama_C_make_unknown(any_names[2].octets, CREW_NAME_OCTETS_MAX);
    Frama_C_make_unknown(any_names[3].octets, CREW_NAME_OCTETS_MAX);
    Frama_C_make_unknown(any_names[4].octets, CREW_NAME_OCTETS_MAX);
    Frama_C_make_unknown(any_title, CREW_TITLE_OCTETS_MAX);
}

int main(void)
{
    static char text[CREW_TEXT_OCTETS_MAX + 8];
    static struct crew_text out;
    static struct crew_text_room room;
    make_names();
    struct crew_machine machines[MACHINES] = {{any_names[0].octets, Frama_C_interval(0, 1), 1},
                                              {any_names[1].octets, Frama_C_interval(0, 1), 1},
                                              {any_names[2].octets, Frama_C_interval(0, 1), 1}};
    const char *plans[] = {any_names[3].octets};
    const char *people[] = {any_names[4].octets};
    struct crew_title titles[] = {{any_title, 0}, {any_title, 0}};
    struct crew_names names = {machines, MACHINES, plans, 1, people, 1, titles, 2};
    enum crew_date_order order = Frama_C_interval(0, 1) ? CREW_DATE_MDY : CREW_DATE_DMY;
    Frama_C_make_unknown(text, sizeof text);
    size_t length = (size_t)Frama_C_interval(0, sizeof text);
    crew_text_read(text, length, &names, order, Frama_C_interval(0, 1), &room, &out);
    /* A text after another: what that one left in the room. */
    crew_text_read(text, length, &names, order, Frama_C_interval(0, 1), &room, &out);
    /*@ assert out.statement_count <= 10; */
    crew_text_is_word(any_names[0].octets, (size_t)Frama_C_interval(0, CREW_NAME_OCTETS_MAX),
                      Frama_C_interval(0, 1) != 0);
    crew_text_names_alike(any_names[0].octets, any_names[1].octets);
    return 0;
}
