/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/oxidation.h"
#include "models/solids.h"
#include "tests/support/check.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void solids_are_worked_by_hand(void **state)
{
    (void)state;
    struct wr_metals metals = {.iron = 2.0e-3,
                               .manganese = 0.25e-3,
                               .solids_per_iron = WR_SOLIDS_PER_IRON,
                               .solids_per_manganese = WR_SOLIDS_PER_MANGANESE};
    double solids = 0;
    check_count(wr_solids_from_metals(&metals, &solids), WR_OK, "the water is in range");
    check_share(solids, 6.4e-3, 1e-15, "solids, kg/m3: 2 x 3.0 + 0.25 x 1.6 mg/L by hand");
    metals.iron = metals.manganese = 0;
    check_count(wr_solids_from_metals(&metals, &solids), WR_OK, "clear water is in range");
    check(solids, 0, 0, "solids of clear water");
}

static void metals_out_of_range_are_refused(void **state)
{
    (void)state;
    const double bad[] = {-1e-9, (double)NAN, (double)INFINITY};
    for (size_t i = 0; i < 3; i++) {
        for (size_t member = 0; member < 4; member++) {
            double m[] = {1e-3, 1e-4, 3, 1.6};
            m[member] = bad[i];
            struct wr_metals metals = {m[0], m[1], m[2], m[3]};
            double solids = -1;
            check_count(wr_solids_from_metals(&metals, &solids), WR_OUT_OF_RANGE, "the metals are refused");
            check(solids, -1, 0, "the output stays untouched");
        }
    }
}

/* Amount of a substance on one side of an equation in words such as "2 Mn++ + O2 + 2 H2O". */
static double amount_in(const char *side, const char *substance)
{
    char copy[100];
    snprintf(copy, sizeof copy, "%s", side);
    double number = 1, amount = 0;
    for (char *word = strtok(copy, " "); word; word = strtok(NULL, " ")) {
        if (strcmp(word, substance) == 0)
            amount += number;
        char *end;
        number = strtod(word, &end);
        if (end == word || *end)
            number = 1;
    }
    return amount;
}

static void figures_are_those_of_the_equation_beside_them(void **state)
{
    (void)state;
    static const char *const oxidised[] = {"Fe++", "Mn++", "H2S", "H2S"}, *const oxidants[] = {"O2", "Cl2", "KMnO4"};
    for (size_t i = 0; i < wr_oxidation_count; i++) {
        const struct wr_oxidation *row = &wr_oxidation_table[i];
        char left[100];
        snprintf(left, sizeof left, "%s", row->equation);
        char *equals = strstr(left, " = ");
        check_true(equals != NULL, "the equation has two sides");
        *equals = '\0';
        const char *right = equals + 3;
        double moles = amount_in(left, oxidised[row->what]);
        check_true(moles > 0, "the equation oxidises what the row says");
        check(row->oxidant * moles, amount_in(left, oxidants[row->by]), 1e-12, row->equation);
        check(row->acid * moles, amount_in(right, "H+") - amount_in(right, "OH-"), 1e-12, row->equation);
        check(row->ferric_hydroxide * moles, amount_in(right, "Fe(OH)3"), 1e-12, row->equation);
        check(row->manganese_dioxide * moles, amount_in(right, "MnO2"), 1e-12, row->equation);
        check(row->sulfur * moles, amount_in(right, "S"), 1e-12, row->equation);
    }
}

static void reactions_are_found(void **state)
{
    (void)state;
    for (size_t i = 0; i < wr_oxidation_count; i++) {
        const struct wr_oxidation *row = &wr_oxidation_table[i];
        check_true(wr_oxidation_find(row->what, row->by) == row, "the pair finds its own row");
    }
    check_true(wr_oxidation_find(WR_SULFIDE_TO_SULFATE, WR_OXYGEN) == NULL, "a pair not in the table finds none");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(solids_are_worked_by_hand),
        cmocka_unit_test(metals_out_of_range_are_refused),
        cmocka_unit_test(figures_are_those_of_the_equation_beside_them),
        cmocka_unit_test(reactions_are_found),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
