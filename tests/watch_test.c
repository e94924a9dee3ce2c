/* SPDX-License-Identifier: MIT
 * The modem's clock (TS 27.007 8.15), reckoned against GNU date:
 * date -ud "2027-03-01 12:00:00-08:00" +%s and so on. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <string.h>

#include "daemon/modem/watch.h"

static void a_clock_is_read_or_refused(void **state)
{
    static const struct {
        const char *text;
        bool good;
        int64_t unix_s;
    } cases[] = {
        {"+CCLK: \"27/03/01,12:00:00-32\"", true, 1803931200},
        {"+CCLK: \"27/03/01,12:00:00+00\"", true, 1803902400},
        {"+CCLK: \"28/02/29,23:59:59+08\"", true, 1835474399},
        {"+CCLK: \"20/01/01,00:00:00+22\"", true, 1577817000},
        {"+CCLK: \"27/02/29,12:00:00+00\"", false, 0}, /* no such day */
        {"+CCLK: \"27/13/01,12:00:00+00\"", false, 0}, /* no such month */
        {"+CCLK: \"27/03/01,24:00:00+00\"", false, 0}, /* no such hour */
        {"+CCLK: \"80/01/06,00:00:00+00\"", false, 0}, /* not told by the network yet */
        {"+CCLK: \"04/01/01,00:00:00+00\"", false, 0}, /* likewise */
        {"+CCLK: \"70/01/01,00:00:00+00\"", false, 0}, /* likewise */
        {"+CCLK: \"27/03/01,12:00:00\"", false, 0},    /* no zone */
        {"+CCLK: \"27/03/01,12:00:00*08\"", false, 0},
        {"+CCLK: \"27/03/01,12:00:00+88\"", false, 0},
        {"+CCLK: \"2027/03/01,12:00:00+00\"", false, 0},
        {"+CCLK: \"27/03/01,12:00:0x+00\"", false, 0},
        {"+CCLK: \"x7/03/01,12:00:00+00\"", false, 0},
        {"+CCLK: \"\"", false, 0},
        {"+CCLK:", false, 0},
        {"", false, 0},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        int64_t unix_s = 0;
        bool good = watch_read_clock(cases[i].text, strlen(cases[i].text), &unix_s);
        if (good != cases[i].good || (good && unix_s != cases[i].unix_s)) {
            fail_msg("%s is read as %d, %lld", cases[i].text, good, (long long)unix_s);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_clock_is_read_or_refused)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
