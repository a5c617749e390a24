/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The starts from which candidates are run, so that none is chosen for the luck of its first beds or of its first day.
 */
#include "sim/engine/philox.h"
#include "sim/scenario/date.h"
#include "sim/scenario/text.h"
#include "sim/study/rota_hunt.h"

#include <math.h>
#include <stdlib.h>

/* Days by which two of the starts begin later. */
enum { DAYS_LATER_2 = 2, DAYS_LATER_3 = 5 };

/* Stream of draws. */
enum { DRAW_BEDS = 101 };

static const double DAY = 86400;

static char *text_of(const char *format, const char *value)
{
    struct wr_text text = {0};
    wr_text_add(&text, format, value);
    return wr_text_take(&text);
}

/* Shares of a run used, at random, for one group of filters. */
static char *random_shares(struct wr_rota_hunt *hunt, size_t group, size_t start)
{
    struct wr_text text = {0};
    wr_philox_open(hunt->rng, (struct wr_stream){.seed = (uint64_t)hunt->definition->seed,
                                                 .component = (uint32_t)group,
                                                 .purpose = DRAW_BEDS,
                                                 .replication = (uint32_t)start});
    wr_text_add(&text, "/filters/%zu/start_shares=[", group);
    for (size_t f = 0; f < hunt->definition->filters.items[group].filters; f++)
        wr_text_add(&text, "%s\"%.0f %%\"", f > 0 ? ", " : "", floor(100 * gsl_rng_uniform(hunt->rng)));
    wr_text_add(&text, "]");
    return wr_text_take(&text);
}

static bool reads_well(struct wr_rota_hunt *hunt, char *const *settings)
{
    struct wr_variant variant;
    size_t count = 0;
    while (count < WR_ROTA_AXES && settings[count] != NULL)
        count++;
    wr_variant_read(&variant, &hunt->base, (const char *const *)settings, count);
    const bool good = variant.is_allowed;
    wr_variant_fini(&variant);
    return good;
}

static void drop_start(char **settings)
{
    for (size_t i = 0; i < WR_ROTA_AXES; i++) {
        free(settings[i]);
        settings[i] = NULL;
    }
}

/* A start other than the scenario's own: beds at random, some days later where its dates allow that. */
static void add_random_start(struct wr_rota_hunt *hunt, size_t days_later)
{
    struct wr_rota_search *rota = hunt->rota;
    char **settings = hunt->starts[rota->starts], date[32];
    const size_t groups = hunt->definition->filters.count;
    size_t count = 0;
    if (groups + 3 > WR_ROTA_AXES)
        return;
    settings[count++] = text_of("/start_beds=%s", "{\"how\": \"given\"}");
    for (size_t g = 0; g < groups; g++)
        settings[count++] = random_shares(hunt, g, rota->starts);
    hunt->shift[rota->starts] = (double)days_later * DAY;
    settings[count] =
        text_of("/start=%s", wr_date_text(hunt->definition->start + (double)days_later * DAY, date, sizeof date));
    if (!reads_well(hunt, settings)) {
        free(settings[count]);
        settings[count] = NULL;
        hunt->shift[rota->starts] = 0;
    }
    if (reads_well(hunt, settings))
        rota->starts++;
    else
        drop_start(settings);
}

void wr_rota_starts_list(struct wr_rota_hunt *hunt)
{
    struct wr_rota_search *rota = hunt->rota;
    rota->starts = 1;
    hunt->starts[1][0] = text_of("/start_beds=%s", "{\"how\": \"equal\"}");
    if (reads_well(hunt, hunt->starts[1]))
        rota->starts++;
    else
        drop_start(hunt->starts[1]);
    add_random_start(hunt, DAYS_LATER_2);
    add_random_start(hunt, DAYS_LATER_3);
}

void wr_rota_starts_fini(struct wr_rota_hunt *hunt)
{
    for (size_t s = 0; s < WR_ROTA_STARTS; s++)
        drop_start(hunt->starts[s]);
}
