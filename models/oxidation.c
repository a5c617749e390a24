/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/oxidation.h"

/* Abridged standard atomic weights, g/mol (IUPAC; from memory). */
#define H 1.008
#define C 12.011
#define O 15.999
#define S 32.06
#define CL 35.45
#define K 39.098
#define CA 40.078
#define MN 54.938
#define FE 55.845

static const double molar_mass_oxidised[] = {
    [WR_IRON] = FE, [WR_MANGANESE] = MN, [WR_SULFIDE_TO_SULFUR] = 2 * H + S, [WR_SULFIDE_TO_SULFATE] = 2 * H + S};
static const double molar_mass_oxidant[] = {
    [WR_OXYGEN] = 2 * O, [WR_CHLORINE] = 2 * CL, [WR_PERMANGANATE] = K + MN + 4 * O};
static const double molar_mass_carbonate = CA + C + 3 * O;
static const double molar_mass_ferric_hydroxide = FE + 3 * (O + H);
static const double molar_mass_manganese_dioxide = MN + 2 * O;

const struct wr_oxidation wr_oxidation_table[] = {
    {.what = WR_IRON,
     .by = WR_OXYGEN,
     .equation = "4 Fe++ + O2 + 10 H2O = 4 Fe(OH)3 + 8 H+",
     .oxidant = 1.0 / 4,
     .acid = 2,
     .ferric_hydroxide = 1},
    {.what = WR_IRON,
     .by = WR_CHLORINE,
     .equation = "2 Fe++ + Cl2 + 6 H2O = 2 Fe(OH)3 + 2 Cl- + 6 H+",
     .oxidant = 1.0 / 2,
     .acid = 3,
     .ferric_hydroxide = 1},
    {.what = WR_IRON,
     .by = WR_PERMANGANATE,
     .equation = "3 Fe++ + KMnO4 + 7 H2O = 3 Fe(OH)3 + MnO2 + K+ + 5 H+",
     .oxidant = 1.0 / 3,
     .acid = 5.0 / 3,
     .ferric_hydroxide = 1,
     .manganese_dioxide = 1.0 / 3},
    {.what = WR_MANGANESE,
     .by = WR_OXYGEN,
     .equation = "2 Mn++ + O2 + 2 H2O = 2 MnO2 + 4 H+",
     .oxidant = 1.0 / 2,
     .acid = 2,
     .manganese_dioxide = 1},
    {.what = WR_MANGANESE,
     .by = WR_CHLORINE,
     .equation = "Mn++ + Cl2 + 2 H2O = MnO2 + 2 Cl- + 4 H+",
     .oxidant = 1,
     .acid = 4,
     .manganese_dioxide = 1},
    {.what = WR_MANGANESE,
     .by = WR_PERMANGANATE,
     .equation = "3 Mn++ + 2 KMnO4 + 2 H2O = 5 MnO2 + 2 K+ + 4 H+",
     .oxidant = 2.0 / 3,
     .acid = 4.0 / 3,
     .manganese_dioxide = 5.0 / 3},
    {.what = WR_SULFIDE_TO_SULFUR,
     .by = WR_CHLORINE,
     .equation = "H2S + Cl2 = S + 2 Cl- + 2 H+",
     .oxidant = 1,
     .acid = 2,
     .sulfur = 1},
    {.what = WR_SULFIDE_TO_SULFUR,
     .by = WR_PERMANGANATE,
     .equation = "3 H2S + 2 KMnO4 = 3 S + 2 MnO2 + 2 K+ + 2 OH- + 2 H2O",
     .oxidant = 2.0 / 3,
     .acid = -2.0 / 3,
     .manganese_dioxide = 2.0 / 3,
     .sulfur = 1},
    {.what = WR_SULFIDE_TO_SULFATE,
     .by = WR_CHLORINE,
     .equation = "H2S + 4 Cl2 + 4 H2O = SO4-- + 8 Cl- + 10 H+",
     .oxidant = 4,
     .acid = 10},
};

const size_t wr_oxidation_count = sizeof(wr_oxidation_table) / sizeof(wr_oxidation_table[0]);

const struct wr_oxidation *wr_oxidation_find(enum wr_oxidised what, enum wr_oxidant by)
{
    for (size_t i = 0; i < wr_oxidation_count; i++)
        if (wr_oxidation_table[i].what == what && wr_oxidation_table[i].by == by)
            return &wr_oxidation_table[i];
    return NULL;
}

double wr_oxidation_demand(const struct wr_oxidation *reaction)
{
    return reaction->oxidant * molar_mass_oxidant[reaction->by] / molar_mass_oxidised[reaction->what];
}

double wr_oxidation_alkalinity(const struct wr_oxidation *reaction)
{
    return reaction->acid / 2 * molar_mass_carbonate / molar_mass_oxidised[reaction->what];
}

double wr_oxidation_solids(const struct wr_oxidation *reaction)
{
    double made = reaction->ferric_hydroxide * molar_mass_ferric_hydroxide +
                  reaction->manganese_dioxide * molar_mass_manganese_dioxide + reaction->sulfur * S;
    return made / molar_mass_oxidised[reaction->what];
}
