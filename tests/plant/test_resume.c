/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A run that is cut and gone on with from saved bytes is the run that was never cut: it tells the same events, ends in
 * the same bytes and gives the same answer. And bytes that do not fit are refused. */
#include "tests/plant/random_plant.h"
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include "sim/plant/bed.h"
#include "sim/report/csv.h"
#include "sim/report/json.h"
#include "sim/report/report.h"

#include <cjson/cJSON.h>
#include <math.h>
#include <nettle/sha2.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#ifdef WR_SANITIZED
enum { PLANTS = 40, BEATS_APART = 10, BYTES_APART = 640, FORGED_APART = 101 };
#else
enum { PLANTS = 300, BEATS_APART = 1, BYTES_APART = 64, FORGED_APART = 7 };
#endif

static const struct wr_stamp stamp = {.version = "1.2.3",
                                      .sha256 = "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef"};

/* A hash of all that was told, FNV-1a of the events member by member. */
struct told {
    uint64_t hash;
    struct wr_observer record; /* told first; empty where the run has its own */
    double *beats;             /* times of instants, where they are wanted; owned */
    size_t beat_count, beat_room;
    bool wants_beats;
};

static void add_to_hash(uint64_t *hash, const void *bytes, size_t length)
{
    for (const unsigned char *byte = bytes, *end = byte + length; byte < end; byte++)
        *hash = (*hash ^ *byte) * 0x100000001b3U;
}

static void told_event(void *context, const struct wr_simulation *sim, const struct wr_event *event)
{
    struct told *told = context;
    if (told->record.event != NULL)
        told->record.event(told->record.context, sim, event);
    const int kind = (int)event->kind, limit = (int)event->limit;
    add_to_hash(&told->hash, &kind, sizeof kind);
    add_to_hash(&told->hash, &limit, sizeof limit);
    add_to_hash(&told->hash, &event->time, sizeof event->time);
    add_to_hash(&told->hash, &event->from, sizeof event->from);
    add_to_hash(&told->hash, &event->where, sizeof event->where);
}

static void told_instant(void *context, const struct wr_simulation *sim)
{
    struct told *told = context;
    if (told->record.instant != NULL)
        told->record.instant(told->record.context, sim);
    if (!told->wants_beats)
        return;
    if (told->beat_count == told->beat_room) {
        told->beat_room = told->beat_room == 0 ? 1024 : 2 * told->beat_room;
        told->beats = realloc(told->beats, told->beat_room * sizeof *told->beats);
        assert_non_null(told->beats);
    }
    told->beats[told->beat_count++] = wr_now(sim);
}

static struct wr_observer observer_of(struct told *told)
{
    return (struct wr_observer){.context = told, .event = told_event, .instant = told_instant};
}

/* What a run came to. */
struct outcome {
    uint64_t hash;
    char *answer;           /* the document */
    char *lists;            /* of washes and spans, as CSV */
    struct wr_bytes record; /* what no document shows, too */
    struct wr_state *state;
    size_t state_size;
};

static void outcome_fini(struct outcome *outcome)
{
    free(outcome->answer);
    free(outcome->lists);
    free(outcome->record.data);
    free(outcome->state);
}

/* What a record holds at the end that no document shows; of lists the text, since their items have padding. */
static void take_record(struct outcome *outcome, const struct wr_run *run)
{
    const struct wr_record *r = &run->record;
    const double figures[] = {(double)r->failed_kind, (double)r->failed_limit, (double)r->failed_where,
                              r->failed_at,           r->start_level,          r->second_half_highest,
                              r->last_at_start,       r->last_level,           r->last_time};
    assert_true(wr_bytes_add(&outcome->record, figures, sizeof figures));
    assert_true(wr_bytes_add(&outcome->record, r->holds_at_start, sizeof r->holds_at_start));
    assert_true(wr_bytes_add(&outcome->record, r->opening, wr_ledger_account_count(r->plant) * sizeof *r->opening));
    size_t length;
    FILE *out = open_memstream(&outcome->lists, &length);
    assert_non_null(out);
    wr_csv_washes(out, run);
    wr_csv_spans(out, run);
    fclose(out);
}

/* Runs to the horizon, from the start or from saved bytes before which `hash` was told. */
static struct outcome outcome_of(const struct wr_definition *definition, const struct wr_bytes *resume,
                                 struct told *told)
{
    struct wr_run run;
    const struct wr_subject subject = {.definition = definition, .sha256 = stamp.sha256};
    wr_run_make(
        &run, definition,
        &(struct wr_run_options){.keeps_lists = true, .also = observer_of(told), .resume = resume, .stamp = stamp});
    if (run.end != WR_RUN_WHOLE)
        fail_msg("the run broke off: %s", run.message);
    struct cJSON *document = wr_report_run_document(&subject, &run);
    struct outcome outcome = {
        .hash = told->hash, .answer = wr_json_text(document), .state_size = run.plant.layout.size};
    outcome.state = malloc(outcome.state_size);
    assert_non_null(outcome.state);
    memcpy(outcome.state, run.simulation.state, outcome.state_size);
    take_record(&outcome, &run);
    cJSON_Delete(document);
    wr_run_fini(&run);
    return outcome;
}

/* The outcome of a run gone on with is that of the whole one. */
static void check_goes_on(const struct wr_definition *definition, const struct wr_bytes *saved, uint64_t hash,
                          const struct outcome *whole, double time)
{
    struct told told = {.hash = hash};
    struct outcome resumed = outcome_of(definition, saved, &told);
    if (resumed.hash != whole->hash)
        fail_msg("cut at %.17g s: other events", time);
    if (memcmp(resumed.state, whole->state, whole->state_size) != 0)
        fail_msg("cut at %.17g s: another state at the end", time);
    if (strcmp(resumed.answer, whole->answer) != 0)
        fail_msg("cut at %.17g s: another answer", time);
    if (strcmp(resumed.lists, whole->lists) != 0)
        fail_msg("cut at %.17g s: other washes or spans", time);
    if (resumed.record.length != whole->record.length ||
        memcmp(resumed.record.data, whole->record.data, whole->record.length) != 0)
        fail_msg("cut at %.17g s: another record", time);
    outcome_fini(&resumed);
}

/* A run under way that can be saved wherever it stands. */
struct under_way {
    struct wr_plant plant;
    struct wr_simulation simulation;
    struct wr_record record;
    struct told told;
};

static void begin(struct under_way *u, const struct wr_definition *definition, uint64_t hash)
{
    *u = (struct under_way){.told.hash = hash};
    check_count(wr_plant_init(&u->plant, definition), WR_OK, "status of the plant's models");
    assert_true(wr_simulation_init(&u->simulation, &u->plant, NULL));
    assert_true(wr_record_init(&u->record, &u->plant, definition->horizon));
    u->record.keeps_lists = true;
    wr_record_open(&u->record, &u->simulation);
    u->told.record = wr_record_observer(&u->record);
    u->simulation.observer = observer_of(&u->told);
}

static void run_to(struct under_way *u, double until)
{
    check_count(wr_simulation_run(&u->simulation, until), WR_ENGINE_OK, "status of the engine");
}

static struct wr_bytes save(struct under_way *u)
{
    struct wr_bytes bytes = {0};
    assert_true(wr_resume_save(&u->simulation, &u->record, &stamp, &bytes));
    return bytes;
}

static void fini(struct under_way *u)
{
    wr_record_fini(&u->record);
    wr_simulation_fini(&u->simulation);
    wr_plant_fini(&u->plant);
}

/* Going on ----------------------------------------------------------------------------------------------------------
 */

/* Cuts a run before each of its instants and goes on to the end from each. */
static size_t check_every_beat(const struct wr_definition *definition)
{
    struct told told = {.wants_beats = true};
    struct outcome whole = outcome_of(definition, NULL, &told);
    struct under_way u;
    begin(&u, definition, 0);
    for (size_t b = 0; b < told.beat_count; b += BEATS_APART) {
        run_to(&u, told.beats[b]);
        struct wr_bytes saved = save(&u);
        check_goes_on(definition, &saved, u.told.hash, &whole, told.beats[b]);
        free(saved.data);
    }
    fini(&u);
    outcome_fini(&whole);
    free(told.beats);
    return told.beat_count;
}

/* Two busy plants: one with settling by particles, a blanket, recycle, a dirty well that rests, and all kinds of units
 * out for a while; one washed by gravity in the day shift, with air, rinses at each start and the wash pump failing in
 * a wash. */
static void a_cut_at_every_beat_of_a_week_changes_nothing(void **state)
{
    (void)state;
    static const char *const particles[] = {
        "/horizon=7 d",
        "/wells/3/iron=6 mg/L",
        "/wells/3/minimum_run=20 min",
        "/wells/3/minimum_rest=30 min",
        "/wash/triggers/run_hours=20 h",
        "/wash/triggers/persistence=10 min",
        "/outages=[{\"unit\": \"Filter 2\", \"from\": \"2026-01-06\", \"until\": \"2026-01-07\"}, "
        "{\"unit\": \"Well 1\", \"from\": \"2026-01-07\", \"until\": \"2026-01-08\"}, "
        "{\"unit\": \"recycle pump\", \"from\": \"2026-01-09\", \"until\": \"2026-01-10\"}]",
        NULL};
    static const char *const day_shift[] = {
        "/horizon=7 d", "/wash/rinse_at_start=5 min",
        "/outages=[{\"unit\": \"wash pump\", \"from\": \"2026-01-06\", \"until\": \"2026-01-08\"}]", NULL};
    static const struct {
        const char *path;
        const char *const *settings;
    } cases[] = {
        {WR_ROOT "/scenarios/iron-four-particles.json", particles},
        {WR_ROOT "/scenarios/gravity-day-shift.json", day_shift},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct plant_case c;
        plant_case_read(&c, cases[i].path, cases[i].settings);
        const size_t beats = check_every_beat(&c.reading.definition);
        print_message("%s: cut before each of %zu instants\n", cases[i].path, beats);
        check_true(beats > 300, "a busy week, more than 300 instants");
        plant_case_fini(&c);
    }
}

/* A number in [0, 1) for each place in a row, by a linear congruence. */
static double next_share(uint64_t *row)
{
    *row = *row * 6364136223846793005U + 1442695040888963407U;
    return (double)(*row >> 11) / 9007199254740992.0;
}

/* Cuts a run, goes on from the bytes to a second cut, and from those bytes to the end. */
static void check_two_cuts(const struct wr_definition *definition, uint64_t seed)
{
    struct told told = {0};
    struct outcome whole = outcome_of(definition, NULL, &told);
    uint64_t row = seed;
    const double first = next_share(&row) * definition->horizon;
    const double second = first + next_share(&row) * (definition->horizon - first);
    struct under_way before, after;
    char fault[256];
    begin(&before, definition, 0);
    run_to(&before, first);
    struct wr_bytes once = save(&before);
    begin(&after, definition, before.told.hash);
    if (!wr_resume_load(&after.simulation, &after.record, &stamp, &once, definition->horizon, fault, sizeof fault))
        fail_msg("seed %llu, cut at %.17g s: %s", (unsigned long long)seed, first, fault);
    struct wr_bytes same = save(&after);
    check_count(same.length, once.length, "bytes of a run that is saved again at once");
    check_count(memcmp(same.data, once.data, once.length), 0, "and their difference");
    run_to(&after, second);
    struct wr_bytes twice = save(&after);
    check_goes_on(definition, &twice, after.told.hash, &whole, second);
    free(once.data);
    free(same.data);
    free(twice.data);
    fini(&before);
    fini(&after);
    outcome_fini(&whole);
}

static void random_plants_go_on_after_two_cuts(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= PLANTS; seed++) {
        struct wr_reading reading;
        assert_true(random_plant_read(&reading, seed));
        check_two_cuts(&reading.definition, seed);
        wr_reading_fini(&reading);
    }
}

/* Refusing ----------------------------------------------------------------------------------------------------------
 */

/* A plant that has run for some days, and its bytes. */
struct saved_run {
    struct plant_case c;
    struct wr_bytes bytes;
};

static void save_days(struct saved_run *saved, double days)
{
    struct under_way u;
    *saved = (struct saved_run){0};
    plant_case_read(&saved->c, WR_ROOT "/scenarios/iron-four-particles.json", SETTINGS("/horizon=5 d"));
    begin(&u, &saved->c.reading.definition, 0);
    run_to(&u, days * DAY);
    saved->bytes = save(&u);
    fini(&u);
}

static void saved_run_fini(struct saved_run *saved)
{
    free(saved->bytes.data);
    plant_case_fini(&saved->c);
}

/* What is said of bytes in memory of exactly their size; "" where they are taken. Runs on to the horizon then. */
static const char *said_of(const struct saved_run *saved, const unsigned char *data, size_t length, double until)
{
    static char fault[256];
    struct under_way u;
    struct wr_bytes bytes = {.data = malloc(length > 0 ? length : 1), .length = length, .room = length};
    assert_non_null(bytes.data);
    if (length > 0)
        memcpy(bytes.data, data, length);
    fault[0] = '\0';
    begin(&u, &saved->c.reading.definition, 0);
    if (wr_resume_load(&u.simulation, &u.record, &stamp, &bytes, until, fault, sizeof fault)) {
        /* Bytes that were forged need not run to the horizon: an engine bound may stop them. */
        (void)wr_simulation_run(&u.simulation, saved->c.reading.definition.horizon);
        check_text(fault, "", "what is said of bytes that are taken");
    } else
        check_true(fault[0] != '\0', "why bytes are refused");
    fini(&u);
    free(bytes.data);
    return fault;
}

/* The last 32 bytes are the SHA-256 of the others. */
static void seal(unsigned char *data, size_t length)
{
    struct sha256_ctx context;
    sha256_init(&context);
    sha256_update(&context, length - SHA256_DIGEST_SIZE, data);
    sha256_digest(&context, SHA256_DIGEST_SIZE, data + length - SHA256_DIGEST_SIZE);
}

/* Where the head has what: magic 16 bytes, format 8, version 32, hash 64, sizes 16 times 8, time 8, lengths of its
 * lists 5 times 8, length of the payload 8. */
enum {
    FORMAT = 16,
    VERSION = 24,
    HASH = 56,
    SIZES = 120,
    TIME = 248,
    WASHES = 256,
    SPANS = 264,
    TURNS = 272,
    DRAWS = 280,
    EMERGENCIES = 288,
    LENGTH = 296,
    HEAD = 304
};

static void each_field_of_the_head_is_held_to(void **state)
{
    (void)state;
    static const char another_build[] = "another build of the program saved it, or another kind of machine";
    static const struct {
        size_t place;
        const char *said;
    } cases[] = {
        {0, "it is no saved run"},
        {FORMAT, "it is in another format of saved runs, or from another kind of machine"},
        {VERSION, "another version of the program saved it"},
        {VERSION + 31, "another version of the program saved it"},
        {HASH, "it was saved from another scenario, or from this one with other settings"},
        {HASH + 63, "it was saved from another scenario, or from this one with other settings"},
        {TIME, "it is damaged: no run of this plant stands so"},
        {TIME + 7, "it is damaged: no run of this plant stands so"},
        {WASHES, another_build},
        {WASHES + 7, another_build},
        {SPANS, another_build},
        {SPANS + 7, another_build},
        {TURNS, another_build},
        {DRAWS, another_build},
        {EMERGENCIES, another_build},
        {LENGTH + 4, "it is cut short"},
        {LENGTH + 7, "it is cut short"},
    };
    struct saved_run saved;
    save_days(&saved, 3);
    check_text(said_of(&saved, saved.bytes.data, saved.bytes.length, 5 * DAY), "", "what is said of good bytes");
    check_text(said_of(&saved, saved.bytes.data, saved.bytes.length, 3 * DAY), "", "what is said at their own moment");
    check_text(said_of(&saved, saved.bytes.data, saved.bytes.length, 2 * DAY),
               "it stands after the moment at which this run is to end", "what is said where they stand too late");
    unsigned char *data = saved.bytes.data;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        data[cases[i].place] ^= 0x80;
        seal(data, saved.bytes.length);
        check_text(said_of(&saved, data, saved.bytes.length, 5 * DAY), cases[i].said, "what is said of a field");
        data[cases[i].place] ^= 0x80;
    }
    for (size_t place = SIZES; place < TIME; place += 4) {
        data[place] ^= 1;
        seal(data, saved.bytes.length);
        check_text(said_of(&saved, data, saved.bytes.length, 5 * DAY), another_build, "what is said of a size");
        data[place] ^= 1;
    }
    seal(data, saved.bytes.length);
    check_text(said_of(&saved, data, saved.bytes.length, 5 * DAY), "", "what is said of good bytes again");
    saved_run_fini(&saved);
}

static void bytes_that_are_not_whole_are_refused(void **state)
{
    (void)state;
    struct saved_run saved;
    save_days(&saved, 3);
    for (size_t length = 0; length < saved.bytes.length; length += BYTES_APART)
        check_text(said_of(&saved, saved.bytes.data, length, 5 * DAY),
                   length == 0 ? "it is no saved run" : "it is cut short", "what is said of bytes that are cut short");
    check_text(said_of(&saved, saved.bytes.data, saved.bytes.length - 1, 5 * DAY), "it is cut short", "one byte short");
    assert_true(wr_bytes_add(&saved.bytes, "x", 1));
    check_text(said_of(&saved, saved.bytes.data, saved.bytes.length, 5 * DAY),
               "it is damaged: something follows its end", "one byte more");
    saved.bytes.length--;
    for (size_t place = HEAD; place < saved.bytes.length; place += BYTES_APART - 1) {
        saved.bytes.data[place] ^= 0x10;
        check_text(said_of(&saved, saved.bytes.data, saved.bytes.length, 5 * DAY),
                   "it is damaged: its checksum does not fit", "what is said of a flipped bit");
        saved.bytes.data[place] ^= 0x10;
    }
    saved_run_fini(&saved);
}

/* Bits flipped under a checksum that fits: refused, or taken and run without a step outside the plant, which the
 * sanitizers would see. */
static void forged_bytes_do_no_harm(void **state)
{
    (void)state;
    struct saved_run saved;
    size_t refused = 0, taken = 0;
    save_days(&saved, 3);
    for (size_t place = HEAD; place + SHA256_DIGEST_SIZE < saved.bytes.length; place += FORGED_APART) {
        const unsigned char bit = (unsigned char)(1U << (place / FORGED_APART % 8));
        saved.bytes.data[place] ^= bit;
        seal(saved.bytes.data, saved.bytes.length);
        if (said_of(&saved, saved.bytes.data, saved.bytes.length, 5 * DAY)[0] != '\0')
            refused++;
        else
            taken++;
        saved.bytes.data[place] ^= bit;
    }
    print_message("forged: %zu refused, %zu taken\n", refused, taken);
    check_true(refused > 0 && taken > 0, "some of both");
    saved_run_fini(&saved);
}

/* What is said of a run whose state a hand has changed, under a checksum that fits. */
static const char *said_of_state(const struct saved_run *saved,
                                 void (*change)(const struct wr_plant *plant, struct wr_state *state))
{
    struct under_way u;
    struct wr_bytes forged = {0};
    assert_true(wr_bytes_add(&forged, saved->bytes.data, saved->bytes.length));
    begin(&u, &saved->c.reading.definition, 0);
    struct wr_state *state = malloc(u.simulation.plant->layout.size);
    assert_non_null(state);
    memcpy(state, forged.data + HEAD, u.simulation.plant->layout.size);
    change(u.simulation.plant, state);
    memcpy(forged.data + HEAD, state, u.simulation.plant->layout.size);
    free(state);
    fini(&u);
    seal(forged.data, forged.length);
    const char *said = said_of(saved, forged.data, forged.length, 5 * DAY);
    free(forged.data);
    return said;
}

static void change_nothing(const struct wr_plant *plant, struct wr_state *state)
{
    (void)plant;
    (void)state;
}

/* Its end would be told of a filter that is none. */
static void hold_a_flow_by_the_wash_hours(const struct wr_plant *plant, struct wr_state *state)
{
    (void)plant;
    state->held |= wr_limit_bit(WR_LIMIT_WINDOW);
}

static void let_a_filter_wait_for_a_well(const struct wr_plant *plant, struct wr_state *state)
{
    wr_state_filters(plant, state)[0].reasons |= wr_limit_bit(WR_LIMIT_ALL_WELLS_RUNNING);
}

/* It would be called a second time. */
static void let_the_urgent_become_urgent(const struct wr_plant *plant, struct wr_state *state)
{
    struct wr_pack *pack = &wr_state_packs(plant, state)[0];
    size_t f = 0;
    wr_pack_look(plant, state, 0);
    while (!wr_bed_in_pack(&wr_state_filters(plant, state)[f]))
        f++;
    wr_state_filters(plant, state)[f].urgent = true;
    pack->next[WR_TRIGGER_URGENT] = (int32_t)f;
}

static void look_through_the_pack(const struct wr_plant *plant, struct wr_state *state)
{
    wr_pack_look(plant, state, 0);
}

/* Found by hostile input. */
static void a_state_that_would_trip_the_plant_is_refused(void **state)
{
    (void)state;
    static const char unsound[] = "it is damaged: no run of this plant stands so";
    struct saved_run saved;
    save_days(&saved, 3);
    check_text(said_of_state(&saved, change_nothing), "", "what is said of a state as it was");
    check_text(said_of_state(&saved, look_through_the_pack), "", "what is said of a pack that was looked through");
    check_text(said_of_state(&saved, hold_a_flow_by_the_wash_hours), unsound, "what is said of a flow held as a wash");
    check_text(said_of_state(&saved, let_a_filter_wait_for_a_well), unsound, "what is said of a wash held as a flow");
    check_text(said_of_state(&saved, let_the_urgent_become_urgent), unsound, "what is said of one urgent twice");
    saved_run_fini(&saved);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_cut_at_every_beat_of_a_week_changes_nothing),
        cmocka_unit_test(random_plants_go_on_after_two_cuts),
        cmocka_unit_test(each_field_of_the_head_is_held_to),
        cmocka_unit_test(bytes_that_are_not_whole_are_refused),
        cmocka_unit_test(forged_bytes_do_no_harm),
        cmocka_unit_test(a_state_that_would_trip_the_plant_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
