/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Doubles as text: read back to the same bits, short where that is enough, nothing for what JSON does not have. */

#include "sim/report/number.h"
#include "tests/support/check.h"

#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static void known_numbers(void **state)
{
    (void)state;
    check_text(wr_number_text(0.1).text, "0.1", "0.1 is short, by hand");
    check_text(wr_number_text(0).text, "0", "0, by hand");
    check_text(wr_number_text(1e22).text, "1e+22", "1e22, by hand");
    check_text(wr_number_text(86400).text, "86400", "86400, by hand");
    check_text(wr_number_text(1.0 / 3).text, "0.3333333333333333", "1/3 has 16 digits, IEEE 754");
    check_text(wr_number_text(5e-324).text, "4.94065645841247e-324", "least double, to 15 digits");
    check_text(wr_number_text((double)NAN).text, "", "NaN is nothing");
    check_text(wr_number_text((double)INFINITY).text, "", "infinity is nothing");
    check_text(wr_number_text((double)-INFINITY).text, "", "infinity is nothing");
}

/* Bits drawn at random reach every exponent; a fault in one double of a thousand would be met with certainty. */
static void any_double_reads_back(void **state)
{
    (void)state;
    gsl_rng *random = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(random, 2);
    for (int i = 0; i < 50000; i++) {
        const uint64_t bits = (uint64_t)gsl_rng_get(random) << 32 | gsl_rng_get(random);
        double value;
        memcpy(&value, &bits, sizeof value);
        if (!isfinite(value))
            continue;
        const struct wr_number number = wr_number_text(value);
        const double again = strtod(number.text, NULL);
        check_true(memcmp(&again, &value, sizeof value) == 0, number.text);
    }
    gsl_rng_free(random);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(known_numbers), cmocka_unit_test(any_double_reads_back)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
