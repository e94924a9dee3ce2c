/* SPDX-License-Identifier: MIT
 * plot: readings as points, thresholds as lines. */
#include <locale.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include "daemon/counter/plot.h"
#include "daemon/ground/zone.h"

static char *plotted(const struct plot_point *points, size_t point_count,
                     const struct plot_level *levels, size_t level_count)
{
    char *printed = NULL;
    size_t length = 0;
    FILE *out = open_memstream(&printed, &length);
    assert_non_null(out);
    plot_print(points, point_count, levels, level_count, 50, out);
    assert_int_equal(fclose(out), 0);
    return printed;
}

static void readings_climb_towards_the_threshold(void **state)
{
    static const struct plot_point points[] = {
        {1804000000, 0}, {1804000000 + 86400 * 5, 3000}, {1804000000 + 86400 * 10, 6000}};
    static const struct plot_level levels[] = {{"drive", 7500}, {"far", 999900}};
    (void)state;
    assert_true(zone_set("UTC"));
    char *picture = plotted(points, 3, levels, 2);
    assert_string_equal(picture, "      75 |---------------------------------- drive\n"
                                 "         |                                  \n"
                                 "         |                                 o\n"
                                 "      54 |                                  \n"
                                 "         |                                  \n"
                                 "         |                                  \n"
                                 "      34 |                                  \n"
                                 "         |                o                 \n"
                                 "         |                                  \n"
                                 "      13 |                                  \n"
                                 "         |                                  \n"
                                 "       0 |o                                 \n"
                                 "         +2027-03-02              2027-03-12\n"
                                 "          above: far at 9999\n");
    free(picture);
}

static void the_top_of_the_axis_is_never_below_the_highest_reading(void **state)
{
    static const struct {
        int64_t low, high;
        const char *top, *bottom;
    } cases[] = {
        {100050, 107880, "    1079 |", "    1000 |"}, /* whole hours */
        {107012, 107885, "  1078.9 |", "  1070.1 |"}, /* tenths */
        {100000, 107800, "    1078 |", "    1000 |"}, /* nothing to round */
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const struct plot_point points[] = {{1804000000, cases[i].low},
                                            {1804864000, cases[i].high}};
        char *picture = plotted(points, 2, NULL, 0);
        assert_memory_equal(picture, cases[i].top, strlen(cases[i].top));
        assert_non_null(strstr(picture, cases[i].bottom));
        free(picture);
    }
}

static void what_is_drawn_fits_the_width(void **state)
{
    static const struct plot_point points[] = {{1804000000, 0}, {1804000000 + 86400, 1000}};
    static const struct plot_level levels[] = {{"sixteen-octets-x", 1500}};
    (void)state;
    char *picture = NULL;
    size_t length = 0;
    FILE *out = open_memstream(&picture, &length);
    assert_non_null(out);
    plot_print(points, 2, levels, 1, 40, out);
    assert_int_equal(fclose(out), 0);
    for (const char *line = picture; *line != '\0'; line += strcspn(line, "\n") + 1) {
        assert_true(strcspn(line, "\n") <= 40);
    }
    free(picture);
}

static void one_reading_is_no_picture(void **state)
{
    static const struct plot_point points[] = {{1804000000, 0}};
    (void)state;
    char *picture = plotted(points, 1, NULL, 0);
    assert_string_equal(picture, "");
    free(picture);
}

static void readings_at_one_moment_or_of_one_figure_are_drawn(void **state)
{
    static const struct plot_point same[] = {{1804000000, 500}, {1804000000, 500}};
    (void)state;
    char *picture = plotted(same, 2, NULL, 0);
    assert_non_null(strchr(picture, 'o'));
    free(picture);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(readings_climb_towards_the_threshold),
        cmocka_unit_test(the_top_of_the_axis_is_never_below_the_highest_reading),
        cmocka_unit_test(what_is_drawn_fits_the_width),
        cmocka_unit_test(one_reading_is_no_picture),
        cmocka_unit_test(readings_at_one_moment_or_of_one_figure_are_drawn),
    };
    (void)setlocale(LC_CTYPE, "C.UTF-8"); /* as main does */
    return cmocka_run_group_tests(tests, NULL, NULL);
}
