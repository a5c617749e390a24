/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Slips that a scenario may hold: each is doubted, and a figure just inside its bound is not. */
#include "sim/study/doubt.h"
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#define RUN "/filters/0/deposit/observed_run"

/* The settings by which Alder Fork gets a slip, and by which it stays just clear of it. */
struct slip {
    enum wr_doubt_kind kind;
    const char *pointer;
    const char *slipped[3], *inside[3];
};

static const struct slip slips[] = {
    {WR_DOUBT_DEMAND_OVER_WELLS,
     "/demand/maximum_day", /* 3 x 135 gal/min are 0.5832 Mgal/d */
     {"/demand/maximum_day=0.584 Mgal/d"},
     {"/demand/maximum_day=0.583 Mgal/d"}},
    {WR_DOUBT_DEMAND_OVER_FILTERS,
     "/demand/maximum_day", /* 452.4 gal/min are 0.6514 Mgal/d */
     {"/demand/maximum_day=0.652 Mgal/d"},
     {"/demand/maximum_day=0.651 Mgal/d"}},
    {WR_DOUBT_DEMAND_OVER_FIRM,
     "/demand/maximum_day", /* 301.6 gal/min are 0.4343 Mgal/d */
     {"/demand/maximum_day=0.435 Mgal/d"},
     {"/demand/maximum_day=0.434 Mgal/d"}},
    {WR_DOUBT_DEMAND_OVER_STEPS,
     "/wells", /* 360,000 gal a day are 250 gal/min; a second of 152 does not fit in 301.6 */
     {"/wells/0/flow=152 gal/min", "/wells/1/flow=152 gal/min", "/wells/2/flow=152 gal/min"},
     {"/wells/0/flow=150 gal/min", "/wells/1/flow=150 gal/min", "/wells/2/flow=150 gal/min"}},
    {WR_DOUBT_WELL_OVER_FILTERS, "/wells/1/flow", {"/wells/1/flow=453 gal/min"}, {"/wells/1/flow=452 gal/min"}},
    {WR_DOUBT_WELL_BELOW_RESERVE, "/wells/2/on_below", {"/wells/2/on_below=40 %"}, {"/wells/2/on_below=41 %"}},
    {WR_DOUBT_START_BELOW_RESERVE,
     "/storage/start_level",
     {"/storage/start_level=39 %"},
     {"/storage/start_level=40 %"}},
    {WR_DOUBT_STORAGE_SMALL,
     "/storage/volume", /* 15,000 gal an hour */
     {"/storage/volume=29000 gal"},
     {"/storage/volume=31000 gal"}},
    {WR_DOUBT_STORAGE_LARGE, "/storage/volume", {"/storage/volume=2.53 Mgal"}, {"/storage/volume=2.51 Mgal"}},
    {WR_DOUBT_MEDIA_SHALLOW,
     "/filters/0/media", /* 18 in of what remains are 0.457 m */
     {"/filters/0/media/0/depth=1 in", "/filters/0/media/1/depth=4 in"},
     {"/filters/0/media/0/depth=2 in", "/filters/0/media/1/depth=4 in"}},
    {WR_DOUBT_MEDIA_DEEP,
     "/filters/0/media", /* ft for in, with 18 in below */
     {"/filters/0/media/0/depth=8.5 ft"},
     {"/filters/0/media/0/depth=8.3 ft"}},
    {WR_DOUBT_OBSERVED_RATE_HIGH, RUN, {RUN "/rate=3.4 gal/min/ft2"}, {RUN "/rate=3.2 gal/min/ft2"}},
    {WR_DOUBT_OBSERVED_RATE_LOW, RUN, {RUN "/rate=0.74 gal/min/ft2"}, {RUN "/rate=0.76 gal/min/ft2"}},
    {WR_DOUBT_OBSERVED_LOAD_LOW,
     RUN, /* 1.877 kg/m2 in 40 h */
     {RUN "/hours=63 min"},
     {RUN "/hours=65 min"}},
    {WR_DOUBT_OBSERVED_LOAD_HIGH, RUN, {RUN "/hours=214 h"}, {RUN "/hours=212 h"}},
    {WR_DOUBT_CALLS_WHEN_CLEAN,
     "/wash/triggers/differential",
     {"/wash/triggers/differential=2.2 psi"},
     {"/wash/triggers/differential=2.3 psi"}},
    {WR_DOUBT_NO_CALL,
     "/wash/triggers",
     {"/wash/triggers={\"differential\": \"8 psi\"}", "/filters/0/deposit={\"slope\": \"2 m3/kg\"}",
      "/raw_water={\"iron\": \"0 mg/L\", \"manganese\": \"0 mg/L\"}"},
     {"/wash/triggers={\"differential\": \"8 psi\"}", "/filters/0/deposit={\"slope\": \"2 m3/kg\"}",
      "/raw_water={\"iron\": \"0.1 mg/L\", \"manganese\": \"0 mg/L\"}"}},
    {WR_DOUBT_BACKSTOP_FIRST, "/wash/triggers", {"/wash/triggers/run_hours=82 h"}, {"/wash/triggers/run_hours=83 h"}},
    {WR_DOUBT_RUN_SHORT,
     "/filters/0/deposit", /* 40 h at 3 gal/min/ft2 are 82.6 h on this day */
     {RUN "/hours=2.85 h"},
     {RUN "/hours=2.95 h"}},
    {WR_DOUBT_BACKWASH_SLOW,
     "/wash/backwash_rate",
     {"/wash/backwash_rate=5.9 gal/min/ft2"},
     {"/wash/backwash_rate=6 gal/min/ft2"}},
    {WR_DOUBT_WASH_SHARE,
     "/wash", /* a wash of 6,484 gal every hour of 15,000, over three filters' hours */
     {"/wash/triggers/run_hours=12.9 h"},
     {"/wash/triggers/run_hours=13.1 h"}},
    {WR_DOUBT_WASHES_OVERLAP,
     "/wash/max_simultaneous", /* three of 19 min */
     {"/wash/triggers/run_hours=56 min"},
     {"/wash/triggers/run_hours=58 min"}},
    {WR_DOUBT_REFILL_SLOW,
     "/wash_water/tank/refill_rate", /* at 82.6 h 5,258 gal a day, 3.65 gal/min */
     {"/wash_water/tank/refill_rate=3.6 gal/min"},
     {"/wash_water/tank/refill_rate=3.7 gal/min"}},
    {WR_DOUBT_ROOM_SLOW,
     "/spent_wash", /* 0.872 washes a day leave 4,804 gal clear, 3.34 gal/min */
     {"/recycle/pump=3.3 gal/min"},
     {"/recycle/pump=3.4 gal/min"}},
    {WR_DOUBT_RECYCLE_NEVER, "/recycle", {"/recycle/pump=41 gal/min"}, {"/recycle/pump=40 gal/min"}},
};

/* Whether a kind is among the doubts about Alder Fork with these settings, and where the first of it points. */
static bool is_doubted(enum wr_doubt_kind kind, const char *const *changes, char *pointer, size_t size)
{
    /* Out of the way of all bounds but those tried: hours later than the differential. */
    const char *settings[5] = {"/wash/triggers/run_hours=100 h"};
    for (size_t i = 0; i < 3; i++)
        settings[i + 1] = changes[i];
    struct plant_case c;
    struct wr_plant plant;
    struct wr_doubt doubts[WR_DOUBTS_MOST];
    plant_case_read(&c, WR_ROOT "/scenarios/pressure-three.json", settings);
    check_count(wr_plant_init(&plant, &c.reading.definition), WR_OK, wr_doubt_key(kind));
    const struct wr_outline outline = wr_outline_of(&plant);
    const size_t count = wr_doubts_of(&plant, &outline, doubts);
    bool found = false;
    for (size_t i = 0; i < count && !found; i++)
        if (doubts[i].kind == kind) {
            found = true;
            wr_doubt_pointer(&doubts[i], pointer, size);
        }
    wr_plant_fini(&plant);
    plant_case_fini(&c);
    return found;
}

static void each_slip_is_doubted(void **state)
{
    (void)state;
    bool tried[WR_DOUBTS] = {false};
    for (size_t i = 0; i < sizeof slips / sizeof *slips; i++) {
        char pointer[128] = "", none[128];
        check_true(is_doubted(slips[i].kind, slips[i].slipped, pointer, sizeof pointer), wr_doubt_key(slips[i].kind));
        check_text(pointer, slips[i].pointer, wr_doubt_key(slips[i].kind));
        check_true(!is_doubted(slips[i].kind, slips[i].inside, none, sizeof none), slips[i].inside[0]);
        tried[slips[i].kind] = true;
    }
    for (int kind = 0; kind < WR_DOUBTS; kind++)
        check_true(tried[kind], wr_doubt_key((enum wr_doubt_kind)kind));
}

static void a_plant_without_slips(void **state)
{
    (void)state;
    static const char *const nothing[3] = {NULL};
    char pointer[128];
    for (int kind = 0; kind < WR_DOUBTS; kind++)
        check_true(!is_doubted((enum wr_doubt_kind)kind, nothing, pointer, sizeof pointer),
                   wr_doubt_key((enum wr_doubt_kind)kind));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_slip_is_doubted),
        cmocka_unit_test(a_plant_without_slips),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
