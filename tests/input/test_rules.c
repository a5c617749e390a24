/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Filters, wells and names that do not fit together, and all that is said about them, word for word. */
#include "sim/scenario/quantity.h"
#include "tests/input/edit.h"
#include "tests/support/check.h"

static const struct wr_edit filters[] = {
    {LEAST, "\"area\": \"4.7 m2\",", "",
     "plant.json:8: /filters/0: found neither diameter nor area; allowed: one of them\n"},
    {LEAST, "\"area\": \"4.7 m2\",", "\"area\": \"4.7 m2\", \"diameter\": \"8 ft\",",
     "plant.json:8: /filters/0/area: found both diameter and area; allowed: one of them\n"},
    {LEAST, "\"deposit\": { \"slope\": \"2 m/(kg/m2)\" }", "\"deposit\": {}",
     "plant.json:10: /filters/0/deposit: found neither slope nor observed_run; allowed: one of them\n"},
    {LEAST, "\"medium\": \"sand\"", "\"medium\": \"antracite\"",
     "plant.json:9: /filters/0/media/0/medium: found \"antracite\", a medium without known constants; allowed: "
     "\"anthracite\", \"manganese-coated sand\", \"sand\", \"greensand\", \"gravel\" or \"glass beads\", or "
     "porosity, viscous_constant and inertial_constant beside it; did you mean \"anthracite\"?\n"},
    {LEAST, "\"media\": [ { \"medium\": \"sand\", \"depth\": \"0.7 m\", \"grain_size\": \"0.6 mm\" } ]",
     "\"media\": []",
     "plant.json:8: /filters/0: found neither media nor an observed run; allowed: one of them, from which the "
     "clean headloss follows\n"},
    {LEAST, "\"grain_size\": \"0.6 mm\"", "\"note\": \"none\"",
     "plant.json:9: /filters/0/media/0: found neither grain_size nor sieves; allowed: one of them\n"},
    {LEAST, "\"grain_size\": \"0.6 mm\"", "\"grain_size\": \"0.6 mm\", \"coarse_size\": \"0.6 mm\"",
     "plant.json:9: /filters/0/media/0/coarse_size: found 0.6 mm; allowed: more than grain_size, 0.6 mm\n"},
    {PLANT, "\"sieves\": [",
     "\"grain_size\": \"0.5 mm\", \"uniformity\": 1.5, \"coarse_size\": \"1 mm\", \"sieves\": [",
     "plant.json:31: /filters/0/media/1/uniformity: found uniformity beside sieves; allowed: only beside grain_size\n"
     "plant.json:31: /filters/0/media/1/coarse_size: found coarse_size beside sieves; allowed: only beside grain_size\n"
     "plant.json:31: /filters/0/media/1/sieves: found both grain_size and sieves; allowed: one of them\n"},
    {PLANT, "\"0.5 mm\", \"passing\": \"30 %\"", "\"0.4 mm\", \"passing\": \"30 %\"",
     "plant.json:31: /filters/0/media/1/sieves/1: found an opening or a passing share that is not above that of the "
     "sieve before; allowed: both rising, finest sieve first\n"},
    {PLANT, "\"passing\": \"4 %\"", "\"passing\": \"6 %\"",
     "plant.json:31: /filters/0/media/1/sieves: found passing from 6 to 96 %; allowed: from 5 % or less to 95 % or "
     "more\n"},
    {PLANT, "\"flow\": \"150 gal/min\"", "\"flow\": \"150 gal/min\", \"rate\": \"3 gal/min/ft2\"",
     "plant.json:45: /filters/1/deposit/observed_run/flow: found both rate and flow; allowed: one of them\n"},
    {PLANT, "\"flow\": \"150 gal/min\"", "\"hours\": \"40 h\"",
     "plant.json:44: /filters/1/deposit/observed_run: found neither rate nor flow; allowed: one of them\n"
     "plant.json:45: /filters/1/deposit/observed_run/volume: found both hours and volume; allowed: one of them\n"},
    {PLANT, "\"dirty_differential\": \"8 psi\"", "\"dirty_differential\": \"2.2 psi\"",
     "plant.json:45: /filters/1/deposit/observed_run/dirty_differential: found 15.2 kPa; allowed: more than "
     "clean_differential, 15.2 kPa\n"},
    {PLANT, "\"exponent\": 1.25,", "\"exponent\": 1.25, \"slope\": \"1 m/(kg/m2)\", \"reference_load\": \"1 kg/m2\",",
     "plant.json:44: /filters/1/deposit/observed_run: found both slope and observed_run; allowed: one of them\n"},
    {PLANT, ", \"reference_load\": \"1.9 kg/m2\"", "",
     "plant.json:36: /filters/0/deposit: found an exponent above 1 without reference_load; allowed: with the load "
     "at which the slope holds\n"},
    {PLANT, "[\"0 %\", \"50 %\"]", "[\"0 %\", \"50 %\", \"60 %\"]",
     "plant.json:37: /filters/0/start_shares: found 3 shares; allowed: 2, one a filter\n"},
    {PLANT, "\"start_shares\": [\"10 %\"]", "\"note\": \"none\"",
     "plant.json:39: /filters/1: found no start_shares; allowed: one share a filter, since /start_beds/how is "
     "\"given\"\n"},
    {PLANT, "{ \"how\": \"given\" }", "{ \"how\": \"spread\", \"share\": \"5 %\" }",
     "plant.json:37: /filters/0/start_shares: found start_shares; allowed: only where /start_beds/how is "
     "\"given\"\n"
     "plant.json:49: /filters/1/start_shares: found start_shares; allowed: only where /start_beds/how is "
     "\"given\"\n"
     "plant.json:52: /start_beds/share: found a share; allowed: only where /start_beds/how is \"equal\"\n"},
    {PLANT, "\"cells_per_vessel\": 2", "\"cells_per_vessel\": 3",
     "plant.json:34: /filters/0/cells_per_vessel: found 3; allowed: a number that divides count, 2, into whole "
     "vessels\n"},
};

static void test_filters(void **state)
{
    (void)state;
    WR_CHECK_EDITS(filters);
}

static const struct wr_edit flows_and_levels[] = {
    {PLANT,
     "[0.6, 0.6, 0.6, 0.6, 0.6, 0.9, 1.3, 1.5, 1.4, 1.2, 1.1, 1.1,\n"
     "                       1.1, 1.0, 1.0, 1.0, 1.1, 1.3, 1.4, 1.2, 0.9, 0.7, 0.6, 0.6]",
     "[0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]",
     "plant.json:12: /demand/hourly_factors: found a day of zeros; allowed: a mean above 0\n"},
    {PLANT, "\"low_mark\": \"45 %\"", "\"low_mark\": \"39 %\"",
     "plant.json:15: /storage/low_mark: found 39.0 %; allowed: at least the reserve, 40.0 %\n"},
    {PLANT, "\"off_above\": \"92 %\"", "\"off_above\": \"66 %\"",
     "plant.json:20: /wells/1/off_above: found 66.0 %; allowed: more than on_below, 66.0 %, or the well starts and "
     "stops without end\n"},
    {LEAST, "\"flow\": \"31 m3/h\"", "\"flow\": \"31 m3/h\", \"least_flow\": \"1 m3/h\"",
     "plant.json:6: /wells/0/least_flow: found 4.403 gal/min; allowed: none where drive is \"fixed\"\n"},
    {PLANT, "\"least_flow\": \"60 gal/min\"", "\"least_flow\": \"136 gal/min\"",
     "plant.json:17: /wells/0/least_flow: found 30.89 m3/h; allowed: at most the well's flow, 30.66 m3/h\n"},
    {PLANT, "\"least_flow\": \"60 gal/min\"", "\"least_flow\": \"135 gal/min\"", ""},
    {LEAST, "\"format\": 1", "\"format\": 1, \"over_approved_rate\": \"throttle\"",
     "plant.json:2: /over_approved_rate: found \"throttle\"; allowed: \"drop_well\" or \"rate_rises\", or a well "
     "whose drive is \"variable\"\n"},
    {LEAST, "\"flow\": \"31 m3/h\"", "\"flow\": \"31 m3/h\", \"drive\": \"variable\"", ""},
};

static void test_flows_and_levels(void **state)
{
    (void)state;
    WR_CHECK_EDITS(flows_and_levels);
}

static const struct wr_edit names[] = {
    {PLANT, "\"note\": \"named by its number\"", "\"name\": \"North\"",
     "plant.json:16: /wells: found two wells called \"North\"; allowed: each name once\n"},
    {PLANT, "\"note\": \"named by its number\"", "\"name\": \"F3\"",
     "plant.json:20: /wells/1/name: found \"F3\", which a filter bears; allowed: a name that no other unit bears\n"},
    {PLANT, "\"note\": \"named by its number\"", "\"name\": \"blower\"",
     "plant.json:20: /wells/1/name: found \"blower\", which another unit bears; allowed: a name that no other unit "
     "bears\n"},
    {PLANT, "\"West\"", "\"North\"",
     "plant.json:75: /spent_wash/tanks/0/name: found \"North\", which a well bears; allowed: a name that no other "
     "unit bears\n"},
    {PLANT, "\"West\"", "\"F1\"",
     "plant.json:75: /spent_wash/tanks/0/name: found \"F1\", which a filter bears; allowed: a name that no other "
     "unit bears\n"},
    {PLANT, "\"West\"", "\"recycle pump\"",
     "plant.json:75: /spent_wash/tanks/0/name: found \"recycle pump\", which another unit bears; allowed: a name "
     "that no other unit bears\n"},
    /* A name that was not written meets one that was. */
    {LEAST, "\"count\": 3,", "\"count\": 3, \"name\": \"W\",",
     "plant.json:6: /wells/0/name: found \"W1\", which a filter bears; allowed: a name that no other unit bears\n"},
    {PLANT, "\"West\"", "\"T2\"",
     "plant.json:75: /spent_wash/tanks: found two tanks called \"T2\"; allowed: each name once\n"},
    {PLANT, "\"name\": \"F\", \"count\": 1", "\"name\": \"G\", \"count\": 1",
     "plant.json:66: /wash/rota/1/filter: found \"F3\", which is no filter; allowed: \"F1\", \"F2\", \"G1\"; did "
     "you mean \"F1\"?\n"
     "plant.json:81: /outages/0/unit: found \"F3\", which is no unit of this plant; allowed: \"F1\", \"F2\", "
     "\"G1\", \"North\", \"W2\", \"West\", \"T2\", \"wash pump\", \"blower\", \"recycle pump\"; did you mean "
     "\"F1\"?\n"},
    {PLANT, "{ \"unit\": \"F3\"", "{ \"unit\": \"f3\"",
     "plant.json:81: /outages/0/unit: found \"f3\", which is no unit of this plant; allowed: \"F1\", \"F2\", "
     "\"F3\", \"North\", \"W2\", \"West\", \"T2\", \"wash pump\", \"blower\", \"recycle pump\"; did you mean "
     "\"F3\"?\n"},
    {PLANT, "\"air_time\": \"4 min\"", "\"air_time\": \"0 min\"",
     "plant.json:83: /outages/5/unit: found \"blower\", which is no unit of this plant; allowed: \"F1\", \"F2\", "
     "\"F3\", \"North\", \"W2\", \"West\", \"T2\", \"wash pump\", \"recycle pump\"\n"},
    {PLANT, "{ \"kind\": \"recycle\" }", "{ \"kind\": \"haul\", \"rate\": \"3 gal/min\" }",
     "plant.json:84: /outages/6/unit: found \"recycle pump\", which is no unit of this plant; allowed: \"F1\", "
     "\"F2\", \"F3\", \"North\", \"W2\", \"West\", \"T2\", \"wash pump\", \"blower\"\n"},
    {LEAST, "\"filters\": [ { \"count\": 3,",
     "\"outages\": [ { \"unit\": \"wash pumps\", \"from\": \"2026-03-01\" } ], \"filters\": [ { \"count\": 15,",
     "plant.json:8: /outages/0/unit: found \"wash pumps\", which is no unit of this plant; allowed: \"F1\", "
     "\"F2\", \"F3\", \"F4\", \"F5\", \"F6\", \"F7\", \"F8\", \"F9\", \"F10\", \"F11\", \"F12\" and so on, \"wash "
     "pump\"; did you mean \"wash pump\"?\n"},
    {PLANT, "\"until\": \"2026-03-05 18:30\"", "\"until\": \"2026-03-02\"",
     "plant.json:81: /outages/0/until: found a date no later than from; allowed: a later one, or none\n"},
    {PLANT, "\"filter\": \"F2\"", "\"filter\": \"North\"",
     "plant.json:66: /wash/rota/0/filter: found \"North\", which is no filter; allowed: \"F1\", \"F2\", \"F3\"\n"},
    {PLANT, "\"min_filters_in_service\": 1", "\"min_filters_in_service\": 3",
     "plant.json:67: /wash/min_filters_in_service: found 3; allowed: less than the number of filters, 3, or no "
     "wash ever starts\n"},
    {PLANT, "\"min_filters_in_service\": 1", "\"min_filters_in_service\": 2", ""},
};

static void test_names(void **state)
{
    (void)state;
    WR_CHECK_EDITS(names);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_filters),
        cmocka_unit_test(test_flows_and_levels),
        cmocka_unit_test(test_names),
    };
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    wr_quantities_free();
    return failed;
}
