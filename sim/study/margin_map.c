/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The map of two numbers: which of them together pass. Columns of the first number are tried at even steps of the
 * second, and every gap in which the verdict changes is halved: so the boundary is traced, and not read off a grid. */
#include "sim/scenario/text.h"
#include "sim/study/margin_hunt.h"

#include <math.h>
#include <stdlib.h>

/* Halvings of a gap: down to a thousandth of a step. */
enum { HALVINGS = 10 };

/* Without a range a map shows from half the value to twice the value. */
static const double TWOFOLD = 2;

/* Even steps over a range; whole ones for counts. */
static size_t spread(const struct wr_ask *ask, double *values, size_t most)
{
    const struct wr_figure *figure = &ask->margin->figure;
    const double least = ask->has_range ? ask->least : figure->value / TWOFOLD;
    const double top = ask->has_range ? ask->most : figure->value * TWOFOLD;
    size_t count = 0;
    for (size_t i = 0; i < most; i++) {
        double value = least + (top - least) * (double)i / (double)(most - 1);
        if (figure->is_whole)
            value = round(value);
        if (count == 0 || value > values[count - 1])
            values[count++] = value;
    }
    return count;
}

/* A gap between two rows of a column. */
struct gap {
    double pass, fail;
    enum wr_limit limit;
};

static size_t find_gaps(const struct wr_margin_map *map, size_t column, struct gap gaps[WR_MAP_ROWS])
{
    size_t count = 0;
    for (size_t r = 0; r + 1 < map->rows; r++) {
        const signed char below = map->state[column][r], above = map->state[column][r + 1];
        if (below < 0 || above < 0 || below == above)
            continue;
        gaps[count++] = (struct gap){.pass = map->y[below == 1 ? r : r + 1],
                                     .fail = map->y[below == 1 ? r + 1 : r],
                                     .limit = map->limit[column][below == 1 ? r + 1 : r]};
    }
    return count;
}

static bool halve_gaps(struct wr_hunt *hunt, const struct wr_ask asks[2], double x, struct gap *gaps, size_t count)
{
    struct wr_probe *probes = wr_items_new(count, sizeof *probes);
    for (size_t g = 0; g < count; g++)
        wr_probe_read(hunt, &probes[g], asks[0].margin, x, asks[1].margin, (gaps[g].pass + gaps[g].fail) / 2);
    const bool good = wr_probes_judge(hunt, probes, count);
    for (size_t g = 0; g < count; g++) {
        const double middle = (gaps[g].pass + gaps[g].fail) / 2;
        const struct wr_variant *variant = &probes[g].variant;
        if (good && variant->is_allowed && variant->tried.rung.passes)
            gaps[g].pass = middle;
        else if (good) {
            gaps[g].fail = middle;
            gaps[g].limit = variant->is_allowed ? variant->tried.rung.limit : gaps[g].limit;
        }
        wr_variant_fini(&probes[g].variant);
    }
    free(probes);
    return good;
}

static bool trace(struct wr_hunt *hunt, const struct wr_ask asks[2], size_t column)
{
    struct wr_margin_map *map = &hunt->margins->map;
    struct gap gaps[WR_MAP_ROWS];
    const size_t count = find_gaps(map, column, gaps);
    bool good = true;
    for (size_t i = 0; good && count > 0 && i < HALVINGS && !asks[1].margin->figure.is_whole; i++)
        good = halve_gaps(hunt, asks, map->x[column], gaps, count);
    map->boundary = wr_items_resized(map->boundary, map->point_count + count + 1, sizeof *map->boundary);
    for (size_t g = 0; good && g < count; g++)
        map->boundary[map->point_count++] =
            (struct wr_map_point){map->x[column], (gaps[g].pass + gaps[g].fail) / 2, gaps[g].limit};
    return good;
}

static bool fill_column(struct wr_hunt *hunt, const struct wr_ask asks[2], size_t column)
{
    struct wr_margin_map *map = &hunt->margins->map;
    struct wr_probe *probes = wr_items_new(map->rows, sizeof *probes);
    for (size_t r = 0; r < map->rows; r++)
        wr_probe_read(hunt, &probes[r], asks[0].margin, map->x[column], asks[1].margin, map->y[r]);
    const bool good = wr_probes_judge(hunt, probes, map->rows);
    for (size_t r = 0; r < map->rows; r++) {
        const struct wr_variant *variant = &probes[r].variant;
        map->state[column][r] = !variant->is_allowed ? -1 : variant->tried.rung.passes ? 1 : 0;
        map->limit[column][r] = variant->is_allowed ? variant->tried.rung.limit : WR_LIMIT_NONE;
        wr_variant_fini(&probes[r].variant);
    }
    free(probes);
    return good;
}

void wr_map_make(struct wr_hunt *hunt, const struct wr_ask asks[2])
{
    struct wr_margin_map *map = &hunt->margins->map;
    double y[WR_MAP_COLUMNS];
    const size_t columns = spread(&asks[0], map->x, WR_MAP_COLUMNS);
    map->rows = spread(&asks[1], y, WR_MAP_ROWS);
    for (size_t r = 0; r < map->rows; r++)
        map->y[r] = y[r];
    hunt->margins->has_map = true;
    for (size_t c = 0; c < columns && fill_column(hunt, asks, c) && trace(hunt, asks, c); c++)
        map->columns = c + 1;
}
