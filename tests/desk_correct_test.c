/* SPDX-License-Identifier: MIT
 * A new meter beside what was noted with the same moment: whatever was said before it is the old one's,
 * what was said after it the new one's. Figures of the plan are common practice, without a source. */
#include "tests/desk_room.h"

#define SERVICED "Drive oil and filters next due at 500h: 500h to go"
#define UNSERVICED "Drive oil and filters due now (at -5h)"

static const struct {
    const char *before;   /* an hour earlier; NULL none */
    const char *texts[4]; /* in one second */
    const char *meter, *stands;
} cases[] = {
    {NULL, {"M12 DONE drive 80, M12 SWAP 80 0"}, "M12 0h", SERVICED},
    {NULL, {"M12 DONE drive 80", "M12 SWAP 80 0"}, "M12 0h", SERVICED},
    {"M12 80h", {"M12 DONE drive 80, M12 SWAP 80 0"}, "M12 0h", SERVICED},
    /* Of one day without an hour, which stands for its end. */
    {NULL, {"M12 DONE drive 80 yesterday", "M12 SWAP 80 0 yesterday"}, "M12 0h", SERVICED},
    {NULL, {"M12 80 yesterday", "M12 SWAP 80 0 yesterday"}, "M12 0h", UNSERVICED},
    {NULL, {"M12 80, M12 SWAP 80 0"}, "M12 0h", UNSERVICED},
    /* By the answer to a question. */
    {NULL, {"M12 DONE drive 80", "M12 0h new meter", "YES"}, "M12 0h", SERVICED},
    /* The other way about. */
    {NULL, {"M12 SWAP 80 0, M12 DONE drive 0"}, "M12 0h", SERVICED},
    {NULL, {"M12 SWAP 80 0", "M12 DONE drive 0"}, "M12 0h", SERVICED},
    {NULL, {"M12 80, M12 SWAP 80 0, M12 DONE drive 0"}, "M12 0h", SERVICED},
    /* The old meter's last figure is nothing that was noted before. */
    {"M12 79h", {"M12 DONE drive 80, M12 SWAP 80.1 0"}, "M12 0h", "at 499.9h: 499.9h to go"},
};

static void what_was_noted_before_a_new_meter_is_the_old_ones(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct room *room = room_at(":memory:");
        void *end = room;
        begin(room, "2027-03-25 07:00");
        feed(room, "2027-03-25 08:00", ROSA, "M12 40h");
        if (cases[i].before != NULL) {
            feed(room, "2027-04-02 07:00", ROSA, cases[i].before);
        }
        at(room, "2027-04-02 08:00");
        for (size_t k = 0; k < 4 && cases[i].texts[k] != NULL; k++) {
            receive(room, ROSA, cases[i].texts[k]);
        }
        drop_all(room);
        room->now_s += 60;
        receive(room, ROSA, "M12?");
        assert_true(take_out(room));
        if (strncmp(room->body, cases[i].meter, strlen(cases[i].meter)) != 0 ||
            strstr(room->body, cases[i].stands) == NULL) {
            fail_msg("%s: %s", cases[i].texts[0], room->body);
        }
        (void)room_close(&end);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_was_noted_before_a_new_meter_is_the_old_ones),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
