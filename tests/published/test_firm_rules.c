/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Firm capacity against printed examples and rules, by simulation.
 *
 * Examples and rules know area left and rate alone. A simulated plant also washes. So it is given wells in steps that
 * just fit and long runs, and the simulated figure is held against the printed one less what washing takes:
 *
 *     firm = filters left x area x (run volume - wash depth)/(run volume/rate + time off line)
 *
 * since each filter left gives in one cycle what it filters in a run less what its wash takes of the effluent. Storage
 * falls by a hundredth before its wells start and must come back within half a year, which costs up to 2 parts in
 * 10,000.
 */
#include "sim/plant/mean_run.h"
#include "sim/study/firm.h"
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <stdio.h>

static const double gal_min = 3.785411784e-3 / 60; /* m3/s */

/* Runs of 4000 m, washes of 36 m/h for 10 min and 2 min of settling; nothing is short. */
static const double run_volume = 4000, wash_depth = 6, off_line = 12 * MINUTE;

#define LONG_RUNS                                                                                                      \
    "/wash/triggers={\"volume\":\"4000 m3/m2\"}", "/raw_water/suspended_solids=0.01 mg/L",                             \
        "/filters/0/deposit/observed_run/suspended_solids=10 mg/L", "/wash/backwash_rate=36 m/h",                      \
        "/wash/bed_settle=2 min", "/start_beds/how=spread", "/storage/volume=5000 m3"

/* Writes the setting for so many wells of a flow. */
static void write_wells(char *text, size_t size, int count, const char *flow)
{
    size_t used = (size_t)snprintf(text, size, "/wells=[");
    for (int w = 0; w < count; w++)
        used += (size_t)snprintf(text + used, size - used,
                                 "%s{\"flow\":\"%s\",\"on_below\":\"99 %%\",\"off_above\":\"100 %%\"}",
                                 w > 0 ? "," : "", flow);
    snprintf(text + used, size - used, "]");
}

/* What so many filters give net of washing, m3/s. */
static double net_of_washing(double filters, double area, double rate)
{
    return filters * area * (run_volume - wash_depth) / (run_volume / rate + off_line);
}

static void search(struct plant_case *c, struct wr_firm *firm, const char *filters, const char *area, const char *rate,
                   const char *wells)
{
    plant_case_read(c, PLANT_PLAIN, SETTINGS(LONG_RUNS, filters, area, rate, wells));
    wr_firm_make(firm, &c->reading.definition, NULL);
    check_count(firm->end, WR_RUN_WHOLE, "end of the search");
}

/* Davis, Water and Wastewater Engineering, 2010, example 11-5 p. 11-23: 18,400 m3/d, four filters, 216 m3/d/m2 with one
 * out: 28.4 m2 each, built 28.6 m2. Each well gives what one filter takes. */
static void davis_example_11_5(void **state)
{
    (void)state;
    static struct wr_firm firm;
    struct plant_case c;
    char wells[1024];
    write_wells(wells, sizeof wells, 3, "6177.6 m3/d");
    search(&c, &firm, "/filters/0/count=4", "/filters/0/area=28.6 m2", "/filters/0/approved_rate=216 m/d", wells);
    check_text(firm.terms[2].key, "gross", "the term of the nameplate before washing");
    check(firm.terms[2].value * DAY, 18532.8, 1e-6, "area left x rate, m3/d: derived, 3 x 28.6 x 216");
    const double expected = net_of_washing(3, 28.6, 216 / DAY);
    check_share(firm.one_out.firm, expected, 2e-4, "simulated firm capacity, m3/s: that, less what washing takes");
    check_between(firm.one_out.firm * DAY, 18400, 18532.8, "simulated, m3/d: above the printed flow, below that");
    check_share(firm.nameplate * DAY, 18532.8 * (1 - wash_depth / run_volume), 1e-9,
                "nameplate, m3/d: less wash water");
    check_share(firm.one_out.fail, expected, 2e-4, "upper end of the bracket, m3/s");
    check_true(firm.one_out.pass <= firm.one_out.firm && firm.one_out.firm < firm.one_out.fail, "the bracket");
    wr_firm_fini(&firm);
    plant_case_fini(&c);
}

/* The same plant at the printed flow with one filter out: 214.45 m3/d/m2 (derived), within the printed 216. */
static void davis_example_11_5_at_its_flow(void **state)
{
    (void)state;
    struct plant_case c;
    char wells[1024];
    write_wells(wells, sizeof wells, 3, "6177.6 m3/d");
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(LONG_RUNS, "/filters/0/count=4", "/filters/0/area=28.6 m2",
                            "/filters/0/approved_rate=216 m/d", wells, "/demand/maximum_day=18400 m3/d",
                            "/outages=[{\"unit\":\"F1\",\"from\":\"2026-01-05\"}]", "/horizon=60 d"));
    check(wr_plant_mean_rate(&c.run.plant) * DAY, 214.45, 0.005, "mean rate, m3/d/m2: derived, 18,400/3/28.6");
    check(plant_case_water(&c, WR_LINE_DELIVERED), 60 * 18400, 1e-3, "delivered in 60 d, m3: all that was asked");
    check_true(c.run.passes, "the run passes");
    plant_case_fini(&c);
}

/* Davis, the same, example 11-7: a wash at 36 m/h on 28.6 m2 is 0.286 m3/s, more than the other three make at 9 m/h: by
 * 257 m3/h (derived). So a tank is needed, and the simulated one falls by that. */
static void davis_example_11_7(void **state)
{
    (void)state;
    struct plant_case c;
    char wells[1024];
    write_wells(wells, sizeof wells, 3, "257.4 m3/h");
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/0/count=4", "/filters/0/area=28.6 m2", "/filters/0/approved_rate=9 m/h", wells,
                            "/wash/backwash_rate=36 m/h", "/start_beds/how=spread", "/demand/maximum_day=18532.8 m3/d",
                            "/storage/volume=10000 m3", "/wash_water/tank/refill_rate=10000 m3/h", "/horizon=1 d",
                            "/filters/0/available_head=100 m"));
    const struct wr_wash_record *wash = plant_case_wash(&c, 3, 0);
    const struct plant_sample *during = plant_case_at(&c, wash->started_at + 5 * MINUTE);
    const struct plant_sample *after = plant_case_at(&c, wash->ended_at);
    check(during->flows.wash, 0.286, 5e-4, "wash flow, m3/s: printed");
    check(during->flows.service * 3600, 3 * 28.6 * 9, 1e-6, "what the other three make, m3/h: 3 x 28.6 x 9");
    check((during->flows.wash - during->flows.service) * 3600, 257, 0.5, "wash flow beyond that, m3/h: derived");
    check(1000 - after->wash_level, 257.4 / 6, 1e-6, "fall of the tank in 10 min, m3: derived");
    plant_case_fini(&c);
}

/* Mich. Admin. Code R 325.10105(d); Wis. Adm. Code NR 811.495(1); 35 Ill. Adm. Code 604.605(d): capacity with the
 * largest filter out. Four filters of 100 ft2 at 4 gal/min/ft2: installed 1600, firm 1200 gal/min; two: firm 400. */
static void state_rules(void **state)
{
    (void)state;
    static const struct {
        const char *filters;
        double count, installed, firm; /* gal/min */
    } cases[] = {{"/filters/0/count=4", 4, 1600, 1200}, {"/filters/0/count=2", 2, 800, 400}};
    static struct wr_firm firm;
    const double area = 100 * 0.3048 * 0.3048, rate = 4 * gal_min / (0.3048 * 0.3048);
    for (size_t i = 0; i < 2; i++) {
        struct plant_case c;
        char wells[1024];
        write_wells(wells, sizeof wells, (int)cases[i].count, "400 gal/min");
        search(&c, &firm, cases[i].filters, "/filters/0/area=100 ft2", "/filters/0/approved_rate=4 gal/min/ft2", wells);
        check(firm.terms[2].value / gal_min, cases[i].firm, 1e-6,
              "area left x rate, gal/min: the rules' firm capacity");
        check_share(firm.one_out.firm, net_of_washing(cases[i].count - 1, area, rate), 2e-4,
                    "simulated with one out, m3/s: that, less what washing takes");
        check_share(firm.all_in.firm, net_of_washing(cases[i].count, area, rate), 2e-4,
                    "simulated with none out, m3/s: installed capacity, less what washing takes");
        check_between(firm.one_out.firm / gal_min, 0.997 * cases[i].firm, cases[i].firm,
                      "simulated with one out, gal/min");
        check_between(firm.all_in.firm / gal_min, 0.997 * cases[i].installed, cases[i].installed,
                      "simulated with none out, gal/min");
        wr_firm_fini(&firm);
        plant_case_fini(&c);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(davis_example_11_5),
        cmocka_unit_test(davis_example_11_5_at_its_flow),
        cmocka_unit_test(davis_example_11_7),
        cmocka_unit_test(state_rules),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
