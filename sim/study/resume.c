/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/study/resume.h"

#include "sim/plant/sound.h"
#include "sim/record/keep.h"

#include <nettle/sha2.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char magic[WR_RESUME_MAGIC] = "washrota run\r\n\x1a";

/* To be raised whenever the bytes of a state or a record mean something else at the same sizes. */
static const uint64_t FORMAT = 3;

enum { VERSION_BYTES = 32, HASH_BYTES = 64, SIZES = 11 + WR_RECORD_LISTS };

/* Eight bytes by eight, so that there is nothing between. */
struct head {
    char magic[WR_RESUME_MAGIC];
    uint64_t format;
    char version[VERSION_BYTES];
    char sha256[HASH_BYTES];
    uint64_t sizes[SIZES]; /* of the plant's layout and of structs */
    double time;           /* s since the start */
    uint64_t counts[WR_RECORD_LISTS];
    uint64_t length; /* of the payload */
};

bool wr_resume_is_saved_run(const unsigned char *bytes, size_t length)
{
    return length >= sizeof magic && memcmp(bytes, magic, sizeof magic) == 0;
}

bool wr_bytes_add(struct wr_bytes *bytes, const void *more, size_t length)
{
    size_t room = bytes->room;
    while (room - bytes->length < length)
        room = room < 4096 ? 4096 : room * 2;
    if (room > bytes->room) {
        unsigned char *data = realloc(bytes->data, room);
        if (data == NULL)
            return false;
        bytes->data = data;
        bytes->room = room;
    }
    if (length > 0)
        memcpy(bytes->data + bytes->length, more, length);
    bytes->length += length;
    return true;
}

static void digest_of(const unsigned char *bytes, size_t length, uint8_t digest[SHA256_DIGEST_SIZE])
{
    struct sha256_ctx context;
    sha256_init(&context);
    sha256_update(&context, length, bytes);
    sha256_digest(&context, SHA256_DIGEST_SIZE, digest);
}

static uint64_t parts_size(const struct wr_part *parts, size_t count)
{
    uint64_t size = 0;
    for (size_t p = 0; p < count; p++)
        size += parts[p].size;
    return size;
}

/* What a run is laid out by; the parts are the record's without its lists, whose lengths the head has. */
static void fill_sizes(uint64_t sizes[SIZES], const struct wr_plant *plant, const struct wr_part *parts, size_t count)
{
    const uint64_t all[] = {plant->layout.size,
                            plant->timers.count,
                            sizeof(struct wr_state),
                            sizeof(struct wr_pack),
                            sizeof(struct wr_filter),
                            sizeof(struct wr_tank),
                            sizeof(struct wr_well_state),
                            sizeof(struct wr_outlet_state),
                            sizeof(struct wr_entry),
                            parts_size(parts, count - WR_RECORD_LISTS),
                            sizeof(struct wr_filter_record)};
    memcpy(sizes, all, sizeof all);
    for (int list = 0; list < WR_RECORD_LISTS; list++)
        sizes[SIZES - WR_RECORD_LISTS + list] = wr_record_item_size((enum wr_record_list)list);
}

static struct head head_of(const struct wr_simulation *sim, const struct wr_record *record,
                           const struct wr_stamp *stamp, const struct wr_part *parts, size_t count)
{
    struct head head = {
        .format = FORMAT, .time = wr_now(sim), .length = sim->plant->layout.size + parts_size(parts, count)};
    memcpy(head.magic, magic, sizeof magic);
    snprintf(head.version, sizeof head.version, "%s", stamp->version);
    memcpy(head.sha256, stamp->sha256, sizeof head.sha256);
    wr_record_counts(record, head.counts);
    fill_sizes(head.sizes, sim->plant, parts, count);
    return head;
}

bool wr_resume_save(const struct wr_simulation *sim, struct wr_record *record, const struct wr_stamp *stamp,
                    struct wr_bytes *bytes)
{
    struct wr_part parts[WR_RECORD_PARTS];
    const size_t count = wr_record_parts(record, parts);
    const struct head head = head_of(sim, record, stamp, parts, count);
    uint8_t digest[SHA256_DIGEST_SIZE];
    bool good = wr_bytes_add(bytes, &head, sizeof head) && wr_bytes_add(bytes, sim->state, sim->plant->layout.size);
    for (size_t p = 0; p < count; p++)
        good = good && wr_bytes_add(bytes, parts[p].bytes, parts[p].size);
    if (!good)
        return false;
    digest_of(bytes->data, bytes->length, digest);
    return wr_bytes_add(bytes, digest, sizeof digest);
}

/* Going on -------------------------------------------------------------------------------------------------------- */

/* What is wrong with bytes as such; NULL for nothing. */
static const char *look_at_bytes(const struct wr_bytes *bytes, struct head *head)
{
    uint8_t digest[SHA256_DIGEST_SIZE];
    if (!wr_resume_is_saved_run(bytes->data, bytes->length))
        return "it is no saved run";
    if (bytes->length < sizeof *head + sizeof digest)
        return "it is cut short";
    memcpy(head, bytes->data, sizeof *head);
    if (head->format != FORMAT)
        return "it is in another format of saved runs, or from another kind of machine";
    const size_t length = bytes->length - sizeof *head - sizeof digest;
    if (head->length != length)
        return head->length > length ? "it is cut short" : "it is damaged: something follows its end";
    digest_of(bytes->data, bytes->length - sizeof digest, digest);
    if (memcmp(digest, bytes->data + bytes->length - sizeof digest, sizeof digest) != 0)
        return "it is damaged: its checksum does not fit";
    return NULL;
}

/* True when the lists of a head take so many bytes. */
static bool lists_fill(const struct head *head, uint64_t bytes)
{
    for (int list = 0; list < WR_RECORD_LISTS; list++) {
        const uint64_t size = wr_record_item_size((enum wr_record_list)list);
        if (head->counts[list] > bytes / size)
            return false;
        bytes -= head->counts[list] * size;
    }
    return bytes == 0;
}

/* What is wrong between whole bytes and the run that is to go on; NULL for nothing. */
static const char *look_at_head(const struct head *head, const struct wr_simulation *sim, struct wr_record *record,
                                const struct wr_stamp *stamp, double until)
{
    struct wr_part parts[WR_RECORD_PARTS];
    const size_t count = wr_record_parts(record, parts);
    const struct head wanted = head_of(sim, record, stamp, parts, count);
    if (memcmp(head->version, wanted.version, sizeof head->version) != 0)
        return "another version of the program saved it";
    if (memcmp(head->sha256, wanted.sha256, sizeof head->sha256) != 0)
        return "it was saved from another scenario, or from this one with other settings";
    if (memcmp(head->sizes, wanted.sizes, sizeof head->sizes) != 0 || head->length < wanted.length ||
        !lists_fill(head, head->length - wanted.length)) /* wanted has no items */
        return "another build of the program saved it, or another kind of machine";
    if (!(head->time <= until))
        return "it stands after the moment at which this run is to end";
    return NULL;
}

/* The record's parts out of the payload. */
static bool fill_record(struct wr_record *record, const struct head *head, const unsigned char *from)
{
    struct wr_part parts[WR_RECORD_PARTS];
    if (!wr_record_expect(record, head->counts))
        return false;
    const size_t count = wr_record_parts(record, parts);
    for (size_t p = 0; p < count; p++) {
        if (parts[p].size > 0)
            memcpy(parts[p].bytes, from, parts[p].size);
        from += parts[p].size;
    }
    return true;
}

/* Puts the payload in place, and the simulation back as it was where that is not sound. */
static const char *take_payload(struct wr_simulation *sim, struct wr_record *record, const struct head *head,
                                const unsigned char *payload, double until)
{
    static const char unsound[] = "it is damaged: no run of this plant stands so";
    const size_t size = sim->plant->layout.size;
    struct wr_state *state = malloc(size);
    if (state == NULL || !fill_record(record, head, payload + size)) {
        free(state);
        return "there is not enough memory for it";
    }
    memcpy(state, payload, size);
    struct wr_simulation saved = *sim;
    saved.state = state;
    const bool good =
        wr_state_is_sound(sim, state, until) && state->clock.now == head->time && wr_record_is_sound(record, &saved);
    if (good)
        memcpy(sim->state, state, size); /* in place, since the timers look at that block */
    free(state);
    return good ? NULL : unsound;
}

bool wr_resume_load(struct wr_simulation *sim, struct wr_record *record, const struct wr_stamp *stamp,
                    const struct wr_bytes *bytes, double until, char *fault, size_t size)
{
    struct head head;
    const char *wrong = look_at_bytes(bytes, &head);
    if (wrong == NULL)
        wrong = look_at_head(&head, sim, record, stamp, until);
    if (wrong == NULL)
        wrong = take_payload(sim, record, &head, bytes->data + sizeof head, until);
    if (wrong != NULL)
        snprintf(fault, size, "%s", wrong);
    return wrong == NULL;
}
