/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/oxidation.h"
#include "models/solids.h"
#include "tests/support/check.h"

static const struct wr_oxidation *reaction_of(enum wr_oxidised what, enum wr_oxidant by)
{
    const struct wr_oxidation *reaction = wr_oxidation_find(what, by);
    check_true(reaction != NULL, "the table has the reaction");
    return reaction;
}

/* Published: AWWA/ASCE, Water Treatment Plant Design, 4th ed., table 10.7 p. 10.12, mg per mg of iron. Printed to two
 * or three figures and rounded up here and there: molar masses give 0.635 for its 0.64 of chlorine, 1.79 for its 1.80
 * of alkalinity with oxygen, 1.91 for its 1.9 of solids. */
static void iron_has_the_printed_demands(void **state)
{
    (void)state;
    static const struct {
        enum wr_oxidant by;
        double demand, alkalinity, solids;
    } rows[] = {
        {WR_OXYGEN, 0.14, 1.80, 1.9},
        {WR_CHLORINE, 0.64, 2.70, 1.9},
        {WR_PERMANGANATE, 0.94, 1.50, 2.43},
    };
    for (size_t i = 0; i < 3; i++) {
        const struct wr_oxidation *reaction = reaction_of(WR_IRON, rows[i].by);
        check(wr_oxidation_demand(reaction), rows[i].demand, 0.0055, "oxidant per iron: published, table 10.7");
        check_share(wr_oxidation_alkalinity(reaction), rows[i].alkalinity, 0.005,
                    "alkalinity per iron, as CaCO3: published, table 10.7");
        check_share(wr_oxidation_solids(reaction), rows[i].solids, 0.008, "solids per iron: published, table 10.7");
    }
}

/* Computed from balanced equations when the checks were gathered, not printed anywhere: regression. */
static void manganese_and_sulfide_keep_their_demands(void **state)
{
    (void)state;
    static const struct {
        enum wr_oxidised what;
        enum wr_oxidant by;
        double demand;
    } rows[] = {
        {WR_MANGANESE, WR_OXYGEN, 0.291},
        {WR_MANGANESE, WR_CHLORINE, 1.291},
        {WR_MANGANESE, WR_PERMANGANATE, 1.918},
        {WR_SULFIDE_TO_SULFUR, WR_CHLORINE, 2.081},
        {WR_SULFIDE_TO_SULFUR, WR_PERMANGANATE, 3.091},
        {WR_SULFIDE_TO_SULFATE, WR_CHLORINE, 8.322},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        check(wr_oxidation_demand(reaction_of(rows[i].what, rows[i].by)), rows[i].demand, 1e-3,
              "oxidant per Mn or H2S: balanced equation, regression");
}

static void manganese_keeps_its_solids(void **state)
{
    (void)state;
    check(wr_oxidation_solids(reaction_of(WR_MANGANESE, WR_OXYGEN)), 1.582, 1e-3, "MnO2 per Mn: regression");
    check(wr_oxidation_solids(reaction_of(WR_MANGANESE, WR_CHLORINE)), 1.582, 1e-3, "MnO2 per Mn: regression");
    check(wr_oxidation_solids(reaction_of(WR_MANGANESE, WR_PERMANGANATE)), 2.637, 1e-3,
          "MnO2 of both per Mn: regression");
}

/* Published: dry solids per gram of iron in wash water 2.7 to 4.1 g, EPA residuals tables 2005-06 and Water Sci.
 * Technol. 64(2) 361; pure Fe(OH)3 makes 1.91. */
static void default_factors_are_within_what_was_measured(void **state)
{
    (void)state;
    check_between(WR_SOLIDS_PER_IRON, 2.7, 4.1, "dry solids per iron by default: published range");
    check_true(WR_SOLIDS_PER_IRON > wr_oxidation_solids(reaction_of(WR_IRON, WR_OXYGEN)), "more than pure Fe(OH)3");
    check(WR_SOLIDS_PER_MANGANESE, wr_oxidation_solids(reaction_of(WR_MANGANESE, WR_OXYGEN)), 0.02,
          "dry solids per manganese by default: the equation, rounded up");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(iron_has_the_printed_demands),
        cmocka_unit_test(manganese_and_sulfide_keep_their_demands),
        cmocka_unit_test(manganese_keeps_its_solids),
        cmocka_unit_test(default_factors_are_within_what_was_measured),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
