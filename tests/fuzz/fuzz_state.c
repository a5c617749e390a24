/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Saved runs: an input spoils the bytes of a run that was saved, and what is left is refused with a reason or gone on
 * with. Its first byte chooses the plant and whether the checksum is made to fit again; then four bytes each are a
 * place and what is done there; with no more than that the bytes are as they were. */
#include "tests/fuzz/fuzz.h"

#include "sim/handles.h"
#include "sim/study/run.h"

#include <nettle/sha2.h>
#include <stdlib.h>
#include <string.h>

static const char *const plants[] = {"scenarios/iron-four.json", "scenarios/gravity-urgent.json",
                                     "scenarios/iron-four-particles.json", "scenarios/self-washing.json"};
enum { PLANTS = sizeof plants / sizeof plants[0] };

static const double SAVED_AT = 20 * 3600.0, ENDS_AT = 26 * 3600.0;
static const struct wr_stamp stamp = {.version = "fuzz",
                                      .sha256 = "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef"};

/* A plant and its run, saved whole. */
struct saved {
    struct wr_scenario *scenario;
    struct wr_definition definition;
    struct wr_bytes bytes;
};

static struct saved saved[PLANTS];

static void end_all(void)
{
    for (size_t p = 0; p < PLANTS; p++) {
        free(saved[p].bytes.data);
        wr_scenario_close(saved[p].scenario);
    }
}

static void save_all(void)
{
    for (size_t p = 0; p < PLANTS; p++) {
        struct wr_run run;
        saved[p].scenario = wr_scenario_open(plants[p], NULL, 0);
        saved[p].definition = saved[p].scenario->reading.definition;
        saved[p].definition.horizon = SAVED_AT;
        wr_run_make(&run, &saved[p].definition,
                    &(struct wr_run_options){.keeps_lists = true, .save = &saved[p].bytes, .stamp = stamp});
        if (run.end != WR_RUN_WHOLE || saved[p].bytes.length == 0)
            fuzz_fail("no run to be saved", plants[p]);
        wr_run_fini(&run);
        saved[p].definition.horizon = ENDS_AT;
    }
    atexit(end_all);
}

/* Spoils a copy by the rest of an input. */
static void spoil(struct wr_bytes *bytes, const uint8_t *data, size_t size)
{
    for (; size >= 4; data += 4, size -= 4) {
        const size_t place = (data[0] | (size_t)data[1] << 8 | (size_t)(data[2] & 0x7f) << 16) % bytes->length;
        if ((data[2] & 0x80) != 0)
            bytes->length = place + 1;
        else
            bytes->data[place] ^= data[3];
    }
}

static void mend_checksum(struct wr_bytes *bytes)
{
    struct sha256_ctx context;
    if (bytes->length <= SHA256_DIGEST_SIZE)
        return;
    const size_t length = bytes->length - SHA256_DIGEST_SIZE;
    sha256_init(&context);
    sha256_update(&context, length, bytes->data);
    sha256_digest(&context, SHA256_DIGEST_SIZE, bytes->data + length);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct wr_run run;
    if (saved[0].scenario == NULL)
        save_all();
    if (size == 0)
        return 0;
    const struct saved *base = &saved[data[0] / 2 % PLANTS];
    struct wr_bytes bytes = {0};
    if (!wr_bytes_add(&bytes, base->bytes.data, base->bytes.length))
        fuzz_fail("memory", "none");
    spoil(&bytes, data + 1, size - 1);
    if (data[0] % 2 != 0)
        mend_checksum(&bytes);
    wr_run_make(&run, &base->definition,
                &(struct wr_run_options){.keeps_lists = true, .resume = &bytes, .stamp = stamp});
    if (run.end == WR_RUN_BAD_RESUME && run.message[0] == '\0')
        fuzz_fail("refused without a word", "a saved run");
    if (size < 5 && run.end != WR_RUN_WHOLE)
        fuzz_fail("whole bytes were refused", run.message);
    if (size >= 5 && data[0] % 2 == 0 && memcmp(bytes.data, base->bytes.data, bytes.length) != 0 &&
        run.end != WR_RUN_BAD_RESUME)
        fuzz_fail("spoilt bytes were gone on with", run.message);
    wr_run_fini(&run);
    free(bytes.data);
    return 0;
}
