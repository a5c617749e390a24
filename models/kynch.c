/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/kynch.h"

#include "models/range.h"
#include "models/root.h"

#include <assert.h>
#include <math.h>

/* What the equations below are asked with. */
struct ask {
    const struct wr_kynch *settling;
    double time, height;
};

/* The flux at a concentration, by one look at the law. */
struct look {
    double flux;    /* f */
    double speed;   /* f' */
    double passing; /* -C^2 dv/dC = f - C f': what solids leave behind as the interface passes; falls with C beyond the
                       inflection */
};

static struct look look_at(const struct wr_zone *zone, double solids)
{
    const double velocity = zone->law->velocity(zone, solids);
    const double bend = solids * zone->law->slope(zone, solids, velocity);
    return (struct look){solids * velocity, velocity + bend, -solids * bend};
}

/* Above zero while the line from C0 to C is not yet a tangent at C. */
static double tangent_from_start(double solids, void *context)
{
    const struct wr_kynch *settling = context;
    const struct look look = look_at(&settling->zone, solids);
    return look.flux - settling->flux - look.speed * (solids - settling->solids);
}

/* Above zero while C is less than what is under the interface at the time. */
static double thinner_than_at_time(double solids, void *context)
{
    const struct ask *ask = context;
    const struct wr_kynch *settling = ask->settling;
    return ask->time * look_at(&settling->zone, solids).passing - settling->solids * settling->depth;
}

/* The same at the height. Where nothing moves any more the height is that of all solids at C. */
static double thinner_than_at_height(double solids, void *context)
{
    const struct ask *ask = context;
    const struct wr_kynch *settling = ask->settling;
    const struct look look = look_at(&settling->zone, solids);
    const double share = look.passing > 0 ? -look.speed / look.passing : 1 / solids;
    return settling->solids * settling->depth * share - ask->height;
}

/* An upper end for a root in C beyond `low`: the bed, or with no bed a concentration high enough. The flux of a law
 * without a greatest concentration dies out within some hundred doublings, if numbers are of this world at all. */
static double bracket_end(double (*function)(double, void *), void *context, double low, double bed)
{
    if (bed < HUGE_VAL)
        return bed;
    double high = 2 * low;
    for (int i = 0; i < 100 && function(high, context) > 0; i++)
        high *= 2;
    return high;
}

static enum wr_status root_beyond(double (*function)(double, void *), void *context, double low, double bed,
                                  double *root)
{
    if (function(low, context) <= 0) {
        *root = low;
        return WR_OK;
    }
    return wr_root_between(function, context, low, bracket_end(function, context, low, bed), root);
}

/* Cb, or zero where no concentration of a fan meets the bed. Where the flux comes down to nothing by itself the fan
 * ends at the greatest concentration, and never. */
static double bed_of(const struct wr_zone *zone)
{
    const double greatest = wr_zone_greatest(zone);
    if (greatest == HUGE_VAL || wr_zone_flux(zone, greatest) <= 0)
        return greatest;
    return zone->law->bed(zone, greatest);
}

/* C*; beyond Cb where the bed comes first. */
static enum wr_status find_face(struct wr_kynch *settling)
{
    double inflection = settling->zone.law->inflection(&settling->zone);
    if (settling->solids >= inflection) {
        settling->face = settling->solids;
        return WR_OK;
    }
    settling->face = HUGE_VAL;
    if (settling->bed <= inflection || (settling->bed < HUGE_VAL && tangent_from_start(settling->bed, settling) > 0))
        return WR_OK;
    return root_beyond(tangent_from_start, settling, inflection, settling->bed, &settling->face);
}

/* Speed at which the face goes up: with the fan's first concentration, or with the bed. */
static double rise_of_face(struct wr_kynch *settling)
{
    const struct wr_zone *zone = &settling->zone;
    if (settling->face < settling->bed)
        return -wr_zone_speed(zone, settling->face);
    settling->face = settling->bed = wr_zone_greatest(zone);
    return settling->flux / (settling->bed - settling->solids);
}

static void time_the_phases(struct wr_kynch *settling)
{
    const struct wr_zone *zone = &settling->zone;
    settling->straight_until = settling->depth / (settling->fall + rise_of_face(settling));
    settling->fall_until = settling->straight_until;
    if (settling->face == settling->bed)
        return;
    const double passing = settling->bed < HUGE_VAL ? look_at(zone, settling->bed).passing : 0;
    settling->fall_until = passing > 0 ? settling->solids * settling->depth / passing : HUGE_VAL;
}

enum wr_status wr_kynch_solve(const struct wr_zone *zone, double solids, double depth, struct wr_kynch *settling)
{
    if (wr_zone_check(zone) != WR_OK || !wr_is_positive(solids) || solids >= wr_zone_greatest(zone) ||
        !wr_is_positive(depth))
        return WR_OUT_OF_RANGE;
    const double fall = zone->law->velocity(zone, solids);
    struct wr_kynch solved = {
        .zone = *zone, .solids = solids, .depth = depth, .fall = fall, .flux = solids * fall, .bed = bed_of(zone)};
    const enum wr_status status = find_face(&solved);
    if (status != WR_OK)
        return status;
    time_the_phases(&solved);
    if (!wr_is_positive(solved.straight_until))
        return WR_OUT_OF_RANGE;
    *settling = solved;
    return WR_OK;
}

enum wr_status wr_kynch_height(const struct wr_kynch *settling, double time, double *height)
{
    assert(time >= 0);
    const struct wr_zone *zone = &settling->zone;
    if (time >= settling->fall_until) {
        *height = settling->depth * settling->solids / wr_zone_greatest(zone);
        return WR_OK;
    }
    if (time <= settling->straight_until) {
        *height = settling->depth - settling->fall * time;
        return WR_OK;
    }
    struct ask ask = {.settling = settling, .time = time};
    double under = 0;
    enum wr_status status = root_beyond(thinner_than_at_time, &ask, settling->face, settling->bed, &under);
    if (status == WR_OK)
        *height = -wr_zone_speed(zone, under) * time;
    return status;
}

enum wr_status wr_kynch_time(const struct wr_kynch *settling, double height, double *time)
{
    assert(height >= 0);
    const struct wr_zone *zone = &settling->zone;
    double bend = settling->depth - settling->fall * settling->straight_until;
    double lowest = settling->depth * settling->solids / wr_zone_greatest(zone);
    if (height >= bend) {
        *time = fmax(0, (settling->depth - height) / settling->fall);
        return WR_OK;
    }
    if (height <= lowest) {
        *time = height < lowest ? HUGE_VAL : settling->fall_until;
        return WR_OK;
    }
    struct ask ask = {.settling = settling, .height = height};
    double under = 0;
    enum wr_status status = root_beyond(thinner_than_at_height, &ask, settling->face, settling->bed, &under);
    if (status == WR_OK)
        *time = settling->solids * settling->depth / look_at(zone, under).passing;
    return status;
}
