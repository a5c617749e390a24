/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/washrota.h"

#include "sim/handles.h"
#include "sim/scenario/quantity.h"

#include <gsl/gsl_errno.h>
#include <nettle/sha2.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Library --------------------------------------------------------------------------------------------------------- */

const char *wr_version(void)
{
    return WR_VERSION;
}

void wr_library_open(void)
{
    gsl_set_error_handler_off();
}

void wr_library_close(void)
{
    wr_quantities_free();
}

/* Scenarios ------------------------------------------------------------------------------------------------------- */

static void hash_text(const char *text, char hash[WR_SHA256_DIGITS + 1])
{
    struct sha256_ctx context;
    uint8_t digest[SHA256_DIGEST_SIZE];
    sha256_init(&context);
    sha256_update(&context, strlen(text), (const uint8_t *)text);
    sha256_digest(&context, sizeof digest, digest);
    for (size_t i = 0; i < sizeof digest; i++)
        snprintf(&hash[2 * i], 3, "%02x", digest[i]);
}

/* The text is what a run folder keeps and what the hash is of, so it ends with a line feed. */
static void take_text(struct wr_scenario *scenario)
{
    char *text = wr_reading_scenario_text(&scenario->reading);
    if (text == NULL)
        return;
    struct wr_page page = {0};
    const size_t length = strlen(text);
    wr_page_add(&page, "%s%s", text, length > 0 && text[length - 1] == '\n' ? "" : "\n");
    free(text);
    scenario->text = wr_page_take(&page);
    hash_text(scenario->text, scenario->sha256);
}

struct wr_scenario *wr_scenario_open(const char *path, const char *const *settings, size_t count)
{
    struct wr_scenario *scenario = calloc(1, sizeof *scenario);
    if (scenario == NULL)
        return NULL;
    scenario->work.threads = 1;
    wr_reading_file(&scenario->reading, path, settings, count);
    take_text(scenario);
    return scenario;
}

struct wr_scenario *wr_scenario_open_text(const char *name, const char *text, size_t length,
                                          const char *const *settings, size_t count)
{
    struct wr_scenario *scenario = calloc(1, sizeof *scenario);
    if (scenario == NULL)
        return NULL;
    scenario->work.threads = 1;
    wr_reading_text(&scenario->reading, name, text, length, settings, count);
    take_text(scenario);
    return scenario;
}

bool wr_scenario_is_good(const struct wr_scenario *scenario)
{
    return scenario->reading.good;
}

char *wr_scenario_complaints(const struct wr_scenario *scenario)
{
    return wr_reading_complaints_text(&scenario->reading);
}

const char *wr_scenario_title(const struct wr_scenario *scenario)
{
    return scenario->reading.good ? scenario->reading.definition.title : NULL;
}

const char *wr_scenario_text(const struct wr_scenario *scenario)
{
    return scenario->text;
}

const char *wr_scenario_sha256(const struct wr_scenario *scenario)
{
    return scenario->text != NULL ? scenario->sha256 : NULL;
}

void wr_scenario_close(struct wr_scenario *scenario)
{
    if (scenario == NULL)
        return;
    wr_reading_fini(&scenario->reading);
    free(scenario->text);
    free(scenario);
}

void wr_scenario_set_work(struct wr_scenario *scenario, const struct wr_work *work)
{
    scenario->work = *work;
}

static void tell_work(const struct wr_workers *workers, void *context)
{
    const struct wr_work *work = context;
    work->tell(work->context, workers->done, workers->expected);
}

struct wr_workers wr_scenario_workers(const struct wr_scenario *scenario)
{
    const struct wr_work *work = &scenario->work;
    return (struct wr_workers){.threads = work->threads,
                               .stop = work->stop,
                               .tell = work->tell != NULL ? tell_work : NULL,
                               .context = (void *)(uintptr_t)work};
}

struct wr_subject wr_scenario_subject(const struct wr_scenario *scenario)
{
    return (struct wr_subject){.definition = scenario->reading.good ? &scenario->reading.definition : NULL,
                               .whole_horizon = scenario->whole_horizon,
                               .sha256 = wr_scenario_sha256(scenario)};
}

bool wr_scenario_end_at(struct wr_scenario *scenario, double seconds)
{
    double *horizon = &scenario->reading.definition.horizon;
    if (!scenario->reading.good || !(seconds > 0 && seconds <= *horizon))
        return false;
    if (seconds < *horizon && scenario->whole_horizon <= 0)
        scenario->whole_horizon = *horizon;
    *horizon = seconds;
    return true;
}

bool wr_scenario_want_expansion(struct wr_scenario *scenario, const char *share)
{
    static const double most = 3;
    char found[256];
    double value;
    if (!wr_quantity_read(WR_QUANTITY_SHARE, share, &value, found, sizeof found) || !(value > 0 && value <= most))
        return false;
    scenario->wanted_expansion = value;
    return true;
}

void wr_scenario_want_whole_review(struct wr_scenario *scenario)
{
    scenario->wants_whole_review = true;
}
