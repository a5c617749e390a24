/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/number.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Reading back is done in the locale that wrote, so the point is put in afterwards. */
static bool reads_back(const char *text, double value)
{
    const double again = strtod(text, NULL);
    return !(again < value) && !(again > value);
}

struct wr_number wr_number_text(double value)
{
    struct wr_number number = {""};
    if (!isfinite(value))
        return number;
    for (int digits = 15; digits <= 17; digits++) {
        snprintf(number.text, sizeof number.text, "%.*g", digits, value);
        if (reads_back(number.text, value))
            break;
    }
    char *comma = strchr(number.text, ',');
    if (comma != NULL)
        *comma = '.';
    return number;
}
