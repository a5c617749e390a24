/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/zone_settling.h"

#include "models/range.h"

#include <assert.h>
#include <math.h>
#include <string.h>

static double vesilind_velocity(const struct wr_zone *zone, double solids)
{
    return zone->free_velocity * exp(-zone->hindrance * solids);
}

static double vesilind_slope(const struct wr_zone *zone, double solids, double velocity)
{
    (void)solids;
    return -zone->hindrance * velocity;
}

static double vesilind_peak(const struct wr_zone *zone)
{
    return 1 / zone->hindrance;
}

static double vesilind_inflection(const struct wr_zone *zone)
{
    return 2 / zone->hindrance;
}

/* The greater root of a C^2 - b C + c = 0, or zero where there is none; a, b and c are above zero. */
static double greater_root(double a, double b, double c)
{
    const double square = b * b - 4 * a * c;
    return square >= 0 ? (b + sqrt(square)) / (2 * a) : 0;
}

static double vesilind_bed(const struct wr_zone *zone, double greatest)
{
    return greater_root(1, greatest, greatest / zone->hindrance);
}

/* v0 (1 - C/full)^m without pow, whose last bit differs between builds for whole powers. */
static double richardson_zaki_velocity(const struct wr_zone *zone, double solids)
{
    return solids < zone->full ? zone->free_velocity * exp(zone->hindrance * log1p(-solids / zone->full)) : 0;
}

static double richardson_zaki_slope(const struct wr_zone *zone, double solids, double velocity)
{
    return solids < zone->full ? -zone->hindrance * velocity / (zone->full - solids) : 0;
}

static double richardson_zaki_peak(const struct wr_zone *zone)
{
    return zone->full / (zone->hindrance + 1);
}

static double richardson_zaki_inflection(const struct wr_zone *zone)
{
    return 2 * zone->full / (zone->hindrance + 1);
}

static double richardson_zaki_bed(const struct wr_zone *zone, double greatest)
{
    return greater_root(zone->hindrance, (zone->hindrance + 1) * greatest, zone->full * greatest);
}

static const char vesilind[] = "vesilind", richardson_zaki[] = "richardson_zaki";

const struct wr_zone_law wr_zone_laws[] = {
    {vesilind, vesilind_velocity, vesilind_slope, vesilind_peak, vesilind_inflection, vesilind_bed},
    {richardson_zaki, richardson_zaki_velocity, richardson_zaki_slope, richardson_zaki_peak, richardson_zaki_inflection,
     richardson_zaki_bed},
};

const size_t wr_zone_law_count = sizeof(wr_zone_laws) / sizeof(wr_zone_laws[0]);

const struct wr_zone_law *wr_zone_law_find(const char *name)
{
    for (size_t i = 0; i < wr_zone_law_count; i++)
        if (strcmp(wr_zone_laws[i].name, name) == 0)
            return &wr_zone_laws[i];
    return NULL;
}

static bool has_full(const struct wr_zone *zone)
{
    return zone->law->name == richardson_zaki;
}

enum wr_status wr_zone_check(const struct wr_zone *zone)
{
    bool fit = wr_is_positive(zone->free_velocity) && zone->greatest > 0;
    if (has_full(zone))
        fit = fit && wr_is_within(zone->hindrance, 1.5, 10) && wr_is_positive(zone->full);
    else
        fit = fit && wr_is_positive(zone->hindrance);
    return fit ? WR_OK : WR_OUT_OF_RANGE;
}

double wr_zone_greatest(const struct wr_zone *zone)
{
    return has_full(zone) ? fmin(zone->full, zone->greatest) : zone->greatest;
}

double wr_zone_flux(const struct wr_zone *zone, double solids)
{
    return solids * zone->law->velocity(zone, solids);
}

double wr_zone_speed(const struct wr_zone *zone, double solids)
{
    const double velocity = zone->law->velocity(zone, solids);
    return velocity + solids * zone->law->slope(zone, solids, velocity);
}

void wr_zone_fill(struct wr_zone_column *column, double solids)
{
    for (size_t i = 0; i < column->cells; i++)
        column->solids[i] = solids;
}

static double cell_height(const struct wr_zone_column *column)
{
    return column->depth / (double)column->cells;
}

double wr_zone_load(const struct wr_zone_column *column)
{
    double sum = 0;
    for (size_t i = 0; i < column->cells; i++)
        sum += column->solids[i];
    return sum * cell_height(column);
}

double wr_zone_step(const struct wr_zone *zone, const struct wr_zone_column *column)
{
    return 0.4 * cell_height(column) / zone->free_velocity;
}

/* What a step needs over and over. */
struct step {
    const struct wr_zone *zone;
    double peak, peak_flux, greatest;
    double share; /* time over the height of a cell: turns a flux into a change of concentration */
};

static struct step step_of(const struct wr_zone *zone, const struct wr_zone_column *column, double time)
{
    double peak = zone->law->peak(zone);
    return (struct step){zone, peak, wr_zone_flux(zone, peak), wr_zone_greatest(zone), time / cell_height(column)};
}

/* Slope of a cell from the rises to its neighbours: their mean, yet no more than twice the lesser, so that the cell's
 * edges stay between the neighbours; none at a crest or trough. */
static double slope_of(double rise_above, double rise_below)
{
    if (rise_above * rise_below <= 0)
        return 0;
    double lesser = fmin(fabs(rise_above), fabs(rise_below)), mean = (rise_above + rise_below) / 2;
    return fabs(mean) <= 2 * lesser ? mean : copysign(2 * lesser, mean);
}

/* Concentrations at the upper and lower edge of a cell in the middle of a step. */
struct edges {
    double upper, lower;
};

/* Straight through the cell, then both moved as the fluxes at its edges alone would move them in half the step. That
 * may carry an edge beyond a neighbour, and so below zero, where there is nothing. */
static struct edges edges_of(const struct step *step, double above, double here, double below)
{
    double slope = slope_of(here - above, below - here);
    if (slope == 0)
        return (struct edges){here, here};
    double upper = here - slope / 2, lower = here + slope / 2;
    double change = step->share / 2 * (wr_zone_flux(step->zone, upper) - wr_zone_flux(step->zone, lower));
    return (struct edges){fmax(0, upper + change), fmax(0, lower + change)};
}

/* Godunov's flux between two cells. */
static double flux_between(const struct step *step, double above, double below)
{
    double give = above < step->peak ? wr_zone_flux(step->zone, above) : step->peak_flux;
    double take = below > step->peak ? wr_zone_flux(step->zone, below) : step->peak_flux;
    return fmin(give, take);
}

/* One step, from the floor up. `out` is what a cell has just given to the one below, as a change of concentration. */
static void take_step(const struct step *step, const struct wr_zone_column *column)
{
    double *solids = column->solids;
    size_t last = column->cells - 1;
    double out = 0;
    struct edges below = {solids[last], solids[last]};
    for (size_t i = last; i > 0; i--) {
        struct edges above = edges_of(step, solids[i > 1 ? i - 2 : 0], solids[i - 1], solids[i]);
        double kept = solids[i] - out, room = step->greatest - kept;
        out = fmin(fmin(step->share * flux_between(step, above.lower, below.upper), solids[i - 1]), room);
        solids[i] = out < room ? kept + out : step->greatest;
        below = above;
    }
    solids[0] -= out;
}

void wr_zone_advance(const struct wr_zone *zone, struct wr_zone_column *column, double time)
{
    assert(time >= 0 && column->cells >= 2);
    double steps = ceil(time / wr_zone_step(zone, column));
    struct step step = step_of(zone, column, time / fmax(1, steps));
    for (double i = 0; i < steps; i++)
        take_step(&step, column);
}

/* A cell; over the surface clear water, under the floor the last cell again. */
static double cell_at(const struct wr_zone_column *column, ptrdiff_t i)
{
    ptrdiff_t last = (ptrdiff_t)column->cells - 1;
    return i < 0 ? 0 : column->solids[i < last ? i : last];
}

/* Rise of the concentration across a cell. */
static double rise_at(const struct wr_zone_column *column, ptrdiff_t i)
{
    return cell_at(column, i + 1) - cell_at(column, i - 1);
}

/* From about a cell down, the first in which the column thickens more than in the next: the middle of a face that the
 * cells have spread, and not of another that lies under it. */
static ptrdiff_t steepest_from(const struct wr_zone_column *column, ptrdiff_t first)
{
    ptrdiff_t i = first - 1;
    while (rise_at(column, i + 1) > rise_at(column, i))
        i++;
    return i;
}

/* A face may have been spread over so many cells to either side of its middle. */
enum { FACE_CELLS_MOST = 5 };

/* Tells whether the column is level at that many cells from the middle: the outermost cells have less than this share
 * of what a straight slope would give them of the rise. */
static bool is_level_at(const struct wr_zone_column *column, ptrdiff_t middle, ptrdiff_t reach)
{
    const double share = 0.6;
    double whole = cell_at(column, middle + reach) - cell_at(column, middle - reach);
    double inner = cell_at(column, middle + reach - 1) - cell_at(column, middle - reach + 1);
    return (whole - inner) * (double)reach < share * whole;
}

/* The height over the floor, in cells, of the face about the first cell that is thicker, if there is one: where it lies
 * follows from what the cells hold that it has been spread over, far more closely than from any one concentration. */
static bool find_face(const struct wr_zone_column *column, ptrdiff_t first, double solids, double *height)
{
    ptrdiff_t middle = steepest_from(column, first), reach = 2;
    while (reach < FACE_CELLS_MOST && !is_level_at(column, middle, reach))
        reach++;
    double over = cell_at(column, middle - reach), under = cell_at(column, middle + reach);
    if (under <= solids || !is_level_at(column, middle, reach))
        return false;
    double sum = 0;
    for (ptrdiff_t i = middle - reach + 1; i < middle + reach; i++)
        sum += cell_at(column, i) - over;
    *height = (double)((ptrdiff_t)column->cells - middle - reach) + sum / (under - over);
    return true;
}

double wr_zone_height(const struct wr_zone_column *column, double solids)
{
    ptrdiff_t cells = (ptrdiff_t)column->cells, first = 0;
    while (first < cells && column->solids[first] <= solids)
        first++;
    if (first == cells)
        return 0;
    double height;
    if (!find_face(column, first, solids, &height)) {
        double here = column->solids[first], above = first > 0 ? column->solids[first - 1] : 0;
        height = (double)(cells - first) - 0.5 + (here - solids) / (here - above);
    }
    return fmax(0, fmin(height * cell_height(column), column->depth));
}

/* Never: even packed as densely as can be, with all over the height just clear, the solids would stand higher. */
static bool is_out_of_reach(const struct wr_zone *zone, const struct wr_zone_column *column,
                            const struct wr_zone_wait *wait)
{
    double clear = wait->clarity * (column->depth - wait->height);
    return wr_zone_load(column) - clear > wr_zone_greatest(zone) * wait->height;
}

double wr_zone_time(const struct wr_zone *zone, struct wr_zone_column *column, const struct wr_zone_wait *wait)
{
    assert(wait->clarity >= 0 && wait->height >= 0 && wr_is_not_negative(wait->longest));
    if (wr_zone_height(column, wait->clarity) <= wait->height)
        return 0;
    if (is_out_of_reach(zone, column, wait))
        return HUGE_VAL;
    double limit = wr_zone_step(zone, column), time = 0;
    while (time < wait->longest) {
        double length = fmin(limit, wait->longest - time);
        struct step step = step_of(zone, column, length);
        take_step(&step, column);
        time += length;
        if (wr_zone_height(column, wait->clarity) <= wait->height)
            return time;
    }
    return HUGE_VAL;
}
