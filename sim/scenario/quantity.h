/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_SCENARIO_QUANTITY_H
#define WR_SIM_SCENARIO_QUANTITY_H

/* Quantities as the trade writes them: text with a unit in, SI doubles inside, text with a unit out.
 *
 * UDUNITS reads the unit, on a system of base and trade units built here in code: in its shipped tables `gal` is an
 * acceleration and half of the trade's units are missing. It is not thread-safe, so neither is anything declared here:
 * call from the main thread only. Units met once are remembered. */

#include <stdbool.h>
#include <stddef.h>

#include "sim/plant/definition.h"
#include "sim/scenario/date.h" /* dates are quantities to those who read and show them */

/* What a value measures. Some kinds share a dimension and differ only in the unit in which they are shown.
 * Inside:                               shown in US units, SI units: */
enum wr_quantity {
    WR_QUANTITY_NONE,          /* a bare number */
    WR_QUANTITY_LENGTH,        /* m          ft, m */
    WR_QUANTITY_DEPTH,         /* m          in, m: of media */
    WR_QUANTITY_GRAIN,         /* m          mm, mm */
    WR_QUANTITY_AREA,          /* m2         ft2, m2 */
    WR_QUANTITY_VOLUME,        /* m3         gal, m3 */
    WR_QUANTITY_FLOW,          /* m3/s       gal/min, m3/h */
    WR_QUANTITY_DAILY_FLOW,    /* m3/s       Mgal/d, m3/d: of a whole plant */
    WR_QUANTITY_RATE,          /* m/s        gal/min/ft2, m/h: flow through an area */
    WR_QUANTITY_TIME,          /* s          s, min, h or d by size, in both */
    WR_QUANTITY_TEMPERATURE,   /* K          degF, degC */
    WR_QUANTITY_CONCENTRATION, /* kg/m3      mg/L, mg/L */
    WR_QUANTITY_HEAD,          /* m of water psi, kPa; read from a length or a pressure */
    WR_QUANTITY_SHARE,         /* 0 to 1     %, % */
    WR_QUANTITY_LOAD,          /* kg/m2      lb/ft2, kg/m2: solids caught on an area */
    WR_QUANTITY_SLOPE,      /* m3/kg      psi/(lb/ft2), kPa/(kg/m2): head per load; read from a length or a pressure */
    WR_QUANTITY_RUN_VOLUME, /* m          gal/ft2, m3/m2: water through an area */
    WR_QUANTITY_HINDRANCE,  /* m3/kg      L/g, m3/kg */
    WR_QUANTITY_MASS,       /* kg         lb, kg */
    WR_QUANTITY_MASS_FLOW,  /* kg/s       lb/d, kg/d */
    WR_QUANTITY_COUNT
};

/* Pressure and head of water convert by 1000 kg/m3 and standard gravity, 9.80665 m/s2, whatever the temperature. */
#define WR_PASCALS_PER_METRE (1000.0 * 9.80665)

/* Reads `text`, a number as JSON writes it and a unit ("12 gal/min/ft2", "72 %"), as a `quantity`.
 * Returns true and sets `*value` in SI. Returns false on anything else, leaves `*value` alone and says in `found` what
 * was found: a missing, unknown, badly written or wrong unit, or a number out of a double's range. */
bool wr_quantity_read(enum wr_quantity quantity, const char *text, double *value, char *found, size_t size);

/* What a `quantity` must look like: `a volume such as "9000 gal" or "34 m3"`, or with the caller's own `example` where
 * that is not NULL. Writes at most `size` bytes, of which 128 are always enough, and returns `buffer`. */
char *wr_quantity_wanted(enum wr_quantity quantity, const char *example, char *buffer, size_t size);

/* The name of a kind, with its article: "a volume". */
const char *wr_quantity_name(enum wr_quantity quantity);

/* The unit of the SI doubles inside, as text: "m3/s". */
const char *wr_quantity_si_unit(enum wr_quantity quantity);

/* The unit in which a quantity is shown to a reader of US or SI units, for the head of a column; the time unit is h. */
const char *wr_quantity_unit(enum wr_quantity quantity, enum wr_units units);

/* `value` in the unit that wr_quantity_unit names. */
double wr_quantity_shown(enum wr_quantity quantity, double value, enum wr_units units);

/* `value` (SI) as text with its unit, commas between thousands: "6,484 gal", "8.00 psi", "40.0 h". At least three
 * significant digits, four for flows and volumes; a whole part is never rounded away. NaN is "none", infinity "no
 * limit". Writes at most `size` bytes with the closing zero and returns `buffer`; 64 bytes are always enough. */
char *wr_quantity_text(enum wr_quantity quantity, double value, enum wr_units units, char *buffer, size_t size);

/* Gives back what reading and showing quantities has remembered; they may be used again afterwards. */
void wr_quantities_free(void);

#endif
