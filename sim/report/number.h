/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_REPORT_NUMBER_H
#define WR_SIM_REPORT_NUMBER_H

/* Doubles as text for JSON and CSV. */

/* A number's text, to be used at once: wr_number_text(x).text. */
struct wr_number {
    char text[32];
};

/* The value with as few digits as read back to the same double, 17 at most, and a point whatever the locale. Infinity
 * and NaN give "", since neither JSON nor CSV has them. */
struct wr_number wr_number_text(double value);

#endif
