/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_OXIDATION_H
#define WR_MODELS_OXIDATION_H

/* What it takes to oxidise iron, manganese and sulfide, by balanced equations. */

#include <stddef.h>

enum wr_oxidised { WR_IRON, WR_MANGANESE, WR_SULFIDE_TO_SULFUR, WR_SULFIDE_TO_SULFATE };
enum wr_oxidant { WR_OXYGEN, WR_CHLORINE, WR_PERMANGANATE };

/* One balanced equation, per mole of what is oxidised (Fe, Mn or H2S). */
struct wr_oxidation {
    enum wr_oxidised what;
    enum wr_oxidant by;       /* O2, Cl2 or KMnO4 */
    const char *equation;     /* in whole numbers */
    double oxidant;           /* mol */
    double acid;              /* mol of H+ set free; negative where acid is used up */
    double ferric_hydroxide;  /* mol of Fe(OH)3 made */
    double manganese_dioxide; /* mol of MnO2 made */
    double sulfur;            /* mol of S made */
};

extern const struct wr_oxidation wr_oxidation_table[];
extern const size_t wr_oxidation_count;

/* The row of a reaction.
 * Returns: the row, or NULL when the table has no such reaction. */
const struct wr_oxidation *wr_oxidation_find(enum wr_oxidised what, enum wr_oxidant by);

/* Mass of oxidant a reaction takes.
 *     demand = oxidant x M(oxidant)/M(substance)
 * Given: reaction, a row of the table.
 * Returns: kg of oxidant (Cl2 as Cl2, KMnO4 as the salt) per kg Fe, Mn or H2S.
 * Neglects: everything else in the water that takes oxidant (ammonia, organic matter), and time.
 * Scatter: none in the equation; plants dose more or less than it (permanganate less where oxygen helps).
 * Source: equations in the table; for iron, AWWA/ASCE, Water Treatment Plant Design, 4th ed., table 10.7 p. 10.12.
 * Pinned by: tests/published/test_solids.c */
double wr_oxidation_demand(const struct wr_oxidation *reaction);

/* Alkalinity a reaction uses up.
 *     alkalinity = acid/2 x M(CaCO3)/M(substance)
 * Given: reaction, a row of the table.
 * Returns: kg as CaCO3 per kg Fe, Mn or H2S; negative where it is set free.
 * Neglects: sulfide already dissociated (the equations start from H2S); base that comes with the oxidant.
 * Source, pinned by: as wr_oxidation_demand. */
double wr_oxidation_alkalinity(const struct wr_oxidation *reaction);

/* Dry solids a reaction makes, as pure Fe(OH)3, MnO2 and S.
 *     solids = (ferric_hydroxide M(Fe(OH)3) + manganese_dioxide M(MnO2) + sulfur M(S))/M(substance)
 * Given: reaction, a row of the table.
 * Returns: kg per kg Fe, Mn or H2S.
 * Neglects: what the floc binds besides; real iron floc weighs 1.4 to 2.1 times as much, see models/solids.h.
 * Source, pinned by: as wr_oxidation_demand. */
double wr_oxidation_solids(const struct wr_oxidation *reaction);

#endif
