/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Spent wash on its way: recycle within the solids of its blend, emergencies that are ones, no more back than came. */
#include "tests/plant/watch_part.h"

/* The tank that gives; the number of tanks for none. */
static size_t giving(struct sight at)
{
    size_t tank = at.plant->tank_count;
    for (size_t i = 0; i < at.plant->tank_count; i++)
        if (wr_state_tanks(at.plant, at.state)[i].drawn > 0.0)
            tank = i;
    return tank;
}

/* Blend ------------------------------------------------------------------------------------------------------------ */

/* Dry solids, kg/m3, of the raw water that the wells give now. */
static double raw_solids(struct sight at)
{
    const struct wr_raw_water *raw = &at.definition->raw_water;
    double solids = 0.0, flow = 0.0;
    for (size_t i = 0; i < at.plant->well_count; i++) {
        const struct wr_well *well = &at.definition->wells.items[i];
        const double gives = wr_state_wells(at.plant, at.state)[i].flow;
        const double iron = wr_is_given(well->iron) ? well->iron : raw->iron;
        const double manganese = wr_is_given(well->manganese) ? well->manganese : raw->manganese;
        const double own = iron * raw->dry_solids_per_iron + manganese * raw->dry_solids_per_manganese;
        solids += gives * (wr_is_given(raw->suspended_solids) ? raw->suspended_solids : own);
        flow += gives;
    }
    return flow > 0.0 ? solids / flow : 0.0;
}

/* Dry solids, kg/m3, of what a tank gives: of its decant, or the mix of one that never settles. */
static double given_solids(struct sight at, size_t tank)
{
    const struct wr_tank *t = &wr_state_tanks(at.plant, at.state)[tank];
    if (at.definition->spent_wash.settling.law != WR_SETTLING_NONE)
        return at.watch->turns[tank].carried;
    /* What a microsecond brings is rounding. */
    return t->level > 1e-6 * t->inflow ? fmax(0.0, t->mass[WR_SOLIDS]) / t->level : t->mass_in[WR_SOLIDS] / t->inflow;
}

/* Raw water that filters get: less what washes draw of it. */
static double raw_part(struct sight at)
{
    const bool to_washes = at.definition->wash_water.source == WR_WATER_FROM_WELLS;
    return at.state->flows.raw - (to_washes ? at.state->flows.wash : 0.0);
}

/* Dry solids, kg/m3, of raw water and recycle together. */
static double blend_solids(struct sight at, double back)
{
    const double raw = raw_part(at), recycle = at.state->flows.recycle;
    return (raw_solids(at) * raw + back * recycle) / (raw + recycle);
}

/* Full storage loses nothing that a well could be throttled by; what filters that filter down send it comes anyway. */
static void watch_spared(struct sight at, bool at_bound)
{
    const struct wr_flows *flows = &at.state->flows;
    const double slack = WATCH_KEPT * flows->raw;
    if (flows->overflow <= slack || flows->to_storage - flows->down <= slack || at_bound ||
        raw_part(at) - flows->rinse <= slack ||
        (flows->recycle > 0.0 && flows->recycle >= at.definition->recycle.max_fraction * flows->raw - slack))
        return;
    for (size_t i = 0; i < at.plant->well_count; i++) {
        const struct wr_well *well = &at.definition->wells.items[i];
        const struct wr_well_state *state = &wr_state_wells(at.plant, at.state)[i];
        if (well->drive == WR_DRIVE_VARIABLE && state->runs)
            hold_most(at, state->flow, well->least_flow, slack, "flow of a well while full storage loses water");
    }
}

/* Raw water that is itself above the bound takes up nothing but what is below it. */
void watch_blend(struct sight at)
{
    const double most = at.definition->recycle.max_blend_solids, recycle = at.state->flows.recycle;
    const size_t tank = giving(at);
    bool at_bound = false;
    hold(at, recycle <= 0.0 || tank < at.plant->tank_count, "recycle out of no tank", recycle, 0.0);
    if (recycle > 0.0 && tank < at.plant->tank_count) {
        const double raw = raw_solids(at), back = given_solids(at, tank), blend = blend_solids(at, back);
        hold_near(at, at.state->flows.feed[WR_SOLIDS], blend, WATCH_TINY * (raw + back), "solids of the feed");
        hold_least(at, back, 0.0, 0.0, "solids of recycle");
        hold(at, !(blend > fmax(most, raw) * (1.0 + WATCH_KEPT)) || !wr_is_given(most), "solids of the blend", blend,
             most);
        hold(at, !(raw > most) || back <= most * (1.0 + WATCH_KEPT), "recycle into raw water above the bound", back,
             most);
        at_bound = fabs(blend - most) <= WATCH_KEPT * most;
        at.watch->seen.bound_blends += at_bound;
    }
    watch_spared(at, at_bound);
}

/* Emergencies ------------------------------------------------------------------------------------------------------ */

static bool runs_emergency(struct sight at, size_t outlet)
{
    const struct wr_outlet *o = &at.definition->spent_wash.outlets.items[outlet];
    const bool new_day = floor((at.definition->start + at.now) / 86400.0 + 1e-12) >
                         floor((at.definition->start + at.watch->then) / 86400.0 + 1e-12);
    const double today =
        new_day ? 0.0 : at.watch->outlet_days[outlet] + at.watch->outlet_flows[outlet] * (at.now - at.watch->then);
    return o->emergency && may_be_open(at, &o->hours) && !(today >= o->daily_volume * (1.0 - WATCH_TINY));
}

void watch_dump(struct sight at, size_t tank)
{
    struct watch_turn *dumped = &at.watch->turns[tank];
    bool open = false;
    for (size_t i = 0; i < at.plant->outlet_count; i++)
        open = open || runs_emergency(at, i);
    hold(at, open, "a tank drawn off with no emergency outlet to take it", (double)tank, 0.0);
    hold(at, waits_for_room(at), "a tank drawn off while nobody waits for room", (double)tank, 0.0);
    hold(at, dumped->stands && !is_out(at, WR_UNIT_TANK, tank), "a tank drawn off that does not stand still",
         (double)tank, 0.0);
    for (size_t i = 0; i < at.plant->tank_count; i++) {
        const struct watch_turn *turn = &at.watch->turns[i];
        if (is_out(at, WR_UNIT_TANK, i))
            continue;
        hold(at, !turn->gives, "a tank drawn off while another gives", (double)tank, (double)i);
        hold(at, !turn->stands || !is_settled(at, i, at.now - turn->since), "a tank drawn off while one is clear",
             (double)tank, (double)i);
        hold(at, !turn->stands || turn->since >= dumped->since, "a tank drawn off before an older one", (double)tank,
             (double)i);
    }
    dumped->dumped = true;
}

/* True when a wash waits, an outlet could take the water, and no tank but one that settles has any. */
static bool is_emergency(struct sight at)
{
    bool open = false, still = false;
    if (at.definition->spent_wash.settling.law == WR_SETTLING_NONE || !waits_for_room(at))
        return false;
    for (size_t i = 0; i < at.plant->outlet_count; i++) {
        const struct wr_outlet *o = &at.definition->spent_wash.outlets.items[i];
        open = open || (runs_emergency(at, i) && !may_be_shut(at, &o->hours));
    }
    for (size_t i = 0; i < at.plant->tank_count; i++) {
        const bool out = is_out(at, WR_UNIT_TANK, i);
        still = still || (at.watch->turns[i].stands && !out);
        if (at.watch->turns[i].gives && !out)
            return false;
    }
    return open && still;
}

void watch_emergency(struct sight at)
{
    const size_t tank = giving(at);
    const bool dumped = tank < at.plant->tank_count && at.watch->turns[tank].dumped;
    for (size_t i = 0; i < at.plant->outlet_count; i++) {
        const bool emergency = at.definition->spent_wash.outlets.items[i].emergency;
        const double flow = wr_state_outlets(at.plant, at.state)[i].flow;
        if (flow <= 0.0)
            continue;
        hold(at, !emergency || dumped || waits_for_room(at), "an emergency outlet while nobody waits for room", flow,
             0.0);
        hold(at, emergency || !dumped, "water that has not settled to an outlet for every day", flow, 0.0);
        at.watch->seen.emergencies += emergency;
    }
    hold(at, !is_emergency(at), "a tank that is not drawn off in an emergency", (double)tank, 0.0);
}

/* Recovered -------------------------------------------------------------------------------------------------------- */

double tanks_held_at_start(struct sight at)
{
    double water = 0.0;
    for (size_t i = 0; i < at.plant->tank_count; i++)
        water += at.definition->spent_wash.tanks.items[i].start_level * at.definition->spent_wash.tanks.items[i].volume;
    return water;
}

void watch_recovered(struct sight at)
{
    struct watch *watch = at.watch;
    watch->came += watch->tank_inflow * (at.now - watch->then);
    watch->recycled += watch->recycle * (at.now - watch->then);
    const double most = tanks_held_at_start(at) + watch->came;
    hold_most(at, watch->recycled, most, WATCH_TINY * most, "water recycled against what came");
}

/* What the tanks' lines of some kinds moved together. */
static struct wr_entry lines_of(struct sight at, enum wr_line first, enum wr_line last)
{
    struct wr_entry sum = {0};
    for (int kind = (int)first; kind <= (int)last; kind++)
        for (size_t i = 0; i < at.plant->tank_count; i++) {
            const struct wr_entry *line = wr_ledger_line(at.plant, at.state, (enum wr_line)kind, i);
            sum.water += line->water;
            sum.mass[WR_SOLIDS] += line->mass[WR_SOLIDS];
        }
    return sum;
}

/* Solids that neither left with water nor are suspended now lie in sludge, drawn or standing, and take at least what
 * they do once it has thickened: so much, and the clear water that stands, did not come back. Water thicker than that
 * is its own sludge. */
static void watch_sludge(struct sight at, double most)
{
    const struct wr_entry other = lines_of(at, WR_LINE_TO_SEWER, WR_LINE_TO_HAUL);
    double stands = 0.0;
    double stayed = lines_of(at, WR_LINE_BACKWASH, WR_LINE_RELEASED).mass[WR_SOLIDS] - other.mass[WR_SOLIDS] -
                    lines_of(at, WR_LINE_RECYCLE, WR_LINE_RECYCLE).mass[WR_SOLIDS];
    for (size_t i = 0; i < at.plant->tank_count; i++) {
        const struct wr_tank *tank = &wr_state_tanks(at.plant, at.state)[i];
        stayed -= tank->mass[WR_SOLIDS];
        stands += tank->level - blanket_standing(at, i);
    }
    const double sludge = stayed / (1000.0 * at.definition->spent_wash.sludge.thickened_solids);
    hold_most(at, at.watch->recycled, most - other.water - stands - sludge, WATCH_TINY * most,
              "water recycled against what its solids leave");
}

void watch_recovered_close(struct sight at)
{
    const struct watch *watch = at.watch;
    const double most = tanks_held_at_start(at) + watch->came, slack = WATCH_TINY * most;
    hold_near(at, watch->came, lines_of(at, WR_LINE_BACKWASH, WR_LINE_RELEASED).water, slack,
              "water into the tanks against the books");
    hold_near(at, watch->recycled, lines_of(at, WR_LINE_RECYCLE, WR_LINE_RECYCLE).water, slack,
              "water recycled against the books");
    if (at.definition->spent_wash.has_blanket && !watch->packed)
        watch_sludge(at, most);
}
