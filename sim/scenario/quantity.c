/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/scenario/quantity.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "sim/scenario/json_scan.h"
#include "sim/scenario/quantity_kind.h"
#include "sim/scenario/units.h"

const struct wr_quantity_kind wr_quantity_kinds[WR_QUANTITY_COUNT] = {
    [WR_QUANTITY_NONE] = {"a number", "1", NULL, NULL, {"1", "1"}, 3, "2.5", "2.5"},
    [WR_QUANTITY_LENGTH] = {"a length", "m", NULL, NULL, {"ft", "m"}, 3, "8 ft", "2.4 m"},
    [WR_QUANTITY_DEPTH] = {"a depth", "m", NULL, NULL, {"in", "m"}, 3, "18 in", "0.45 m"},
    [WR_QUANTITY_GRAIN] = {"a grain size", "m", NULL, NULL, {"mm", "mm"}, 3, "0.9 mm", "0.9 mm"},
    [WR_QUANTITY_AREA] = {"an area", "m2", NULL, NULL, {"ft2", "m2"}, 3, "50 ft2", "12 m2"},
    [WR_QUANTITY_VOLUME] = {"a volume", "m3", NULL, NULL, {"gal", "m3"}, 4, "9000 gal", "34 m3"},
    [WR_QUANTITY_FLOW] = {"a flow", "m3/s", NULL, NULL, {"gal/min", "m3/h"}, 4, "300 gal/min", "68 m3/h"},
    [WR_QUANTITY_DAILY_FLOW] = {"a flow", "m3/s", NULL, NULL, {"Mgal/d", "m3/d"}, 4, "0.36 Mgal/d", "1400 m3/d"},
    [WR_QUANTITY_RATE] = {"a flow per area", "m/s", NULL, NULL, {"gal/min/ft2", "m/h"}, 3, "12 gal/min/ft2", "30 m/h"},
    [WR_QUANTITY_TIME] = {"a time", "s", NULL, NULL, {"h", "h"}, 3, "10 min", "72 h"},
    [WR_QUANTITY_TEMPERATURE] = {"a temperature", "K", NULL, NULL, {"degF", "degC"}, 3, "54 degF", "12 degC"},
    [WR_QUANTITY_CONCENTRATION] = {"a concentration", "kg/m3", NULL, NULL, {"mg/L", "mg/L"}, 3, "2.0 mg/L", "2.0 g/m3"},
    [WR_QUANTITY_HEAD] = {"a head", "m", "Pa", "a pressure", {"psi", "kPa"}, 3, "8 psi", "1.5 m"},
    [WR_QUANTITY_SHARE] = {"a share", "1", NULL, NULL, {"%", "%"}, 3, "72 %", "10 %"},
    [WR_QUANTITY_LOAD] = {"a load", "kg/m2", NULL, NULL, {"lb/ft2", "kg/m2"}, 3, "0.38 lb/ft2", "1.9 kg/m2"},
    [WR_QUANTITY_SLOPE] = {"a slope of headloss",
                           "m/(kg/m2)",
                           "Pa/(kg/m2)",
                           "a slope of pressure",
                           {"psi/(lb/ft2)", "kPa/(kg/m2)"},
                           3,
                           "15 psi/(lb/ft2)",
                           "0.42 m/(kg/m2)"},
    [WR_QUANTITY_RUN_VOLUME] =
        {"a volume per area", "m", NULL, NULL, {"gal/ft2", "m3/m2"}, 4, "7200 gal/ft2", "290 m3/m2"},
    [WR_QUANTITY_HINDRANCE] = {"a volume per mass", "m3/kg", NULL, NULL, {"L/g", "m3/kg"}, 3, "1 L/g", "1 m3/kg"},
    [WR_QUANTITY_MASS] = {"a mass", "kg", NULL, NULL, {"lb", "kg"}, 3, "12 lb", "5 kg"},
    [WR_QUANTITY_MASS_FLOW] = {"a flow of mass", "kg/s", NULL, NULL, {"lb/d", "kg/d"}, 3, "12 lb/d", "5 kg/d"},
};

/* A unit met before, as one of a kind. */
struct conversion {
    enum wr_quantity quantity;
    char unit[WR_UNIT_LONGEST + 1];
    cv_converter *to_si;
    cv_converter *from_si;
    double per_si; /* units in one of the SI unit where that is a whole number, else 0: x / 100 is nearer than 0.01 x */
    double further; /* pascals per metre, where a pressure stands for a head */
};

/* Scenarios hold a few dozen units between them; beyond this the oldest are met anew. */
enum { REMEMBERED = 128 };

static struct conversion remembered[REMEMBERED];
static size_t met;

static void conversion_free(struct conversion *conversion)
{
    if (conversion->to_si != NULL)
        cv_free(conversion->to_si);
    if (conversion->from_si != NULL)
        cv_free(conversion->from_si);
    *conversion = (struct conversion){0};
}

void wr_quantities_free(void)
{
    for (size_t i = 0; i < REMEMBERED; i++)
        conversion_free(&remembered[i]);
    met = 0;
    wr_units_free();
}

/* The unit of a text from the table of kinds. */
static ut_unit *unit_of_kind(const char *text)
{
    char fault[200] = "";
    ut_unit *unit = strcmp(text, "1") == 0 ? wr_unit_one() : wr_unit_read(text, fault, sizeof fault);

    assert(unit != NULL);
    return unit;
}

static bool is_alike(const ut_unit *unit, const char *text)
{
    if (text == NULL)
        return false;
    ut_unit *other = unit_of_kind(text);
    bool alike = wr_units_are_alike(unit, other);
    ut_free(other);
    return alike;
}

/* The first kind that `unit` measures, in words. */
static const char *name_of_unit(const ut_unit *unit)
{
    for (size_t i = 1; i < WR_QUANTITY_COUNT; i++) {
        if (is_alike(unit, wr_quantity_kinds[i].si))
            return wr_quantity_kinds[i].name;
        if (is_alike(unit, wr_quantity_kinds[i].also))
            return wr_quantity_kinds[i].also_name;
    }
    return "of no kind that a scenario knows";
}

/* Fills in a conversion between `unit` and the unit `si` of a kind. */
static void find_converters(struct conversion *conversion, ut_unit *unit, const char *si)
{
    ut_unit *target = unit_of_kind(si);

    conversion->to_si = ut_get_converter(unit, target);
    conversion->from_si = ut_get_converter(target, unit);
    ut_free(target);
    assert(conversion->to_si != NULL && conversion->from_si != NULL);
    double per_si = cv_convert_double(conversion->from_si, 1.0);
    double whole = round(per_si);
    bool has_offset = cv_convert_double(conversion->to_si, 0.0) > 0.0;
    conversion->per_si = !has_offset && whole > 1.0 && fabs(per_si - whole) < 1e-9 * whole ? whole : 0.0;
}

static const struct conversion *conversion_recall(enum wr_quantity quantity, const char *unit)
{
    for (size_t i = 0; i < REMEMBERED; i++) {
        if (remembered[i].to_si != NULL && remembered[i].quantity == quantity && strcmp(remembered[i].unit, unit) == 0)
            return &remembered[i];
    }
    return NULL;
}

/* The conversion of a unit met for the first time; NULL with the fault when it is none of the quantity. */
static const struct conversion *conversion_learn(enum wr_quantity quantity, const char *text, char *fault, size_t size)
{
    const struct wr_quantity_kind *kind = &wr_quantity_kinds[quantity];
    struct conversion *conversion = &remembered[met % REMEMBERED];
    ut_unit *unit = wr_unit_read(text, fault, size);

    if (unit == NULL)
        return NULL;
    bool is_also = is_alike(unit, kind->also);
    if (!is_also && !is_alike(unit, kind->si)) {
        snprintf(fault, size, ", %s", name_of_unit(unit));
        ut_free(unit);
        return NULL;
    }
    conversion_free(conversion);
    met++;
    conversion->quantity = quantity;
    strcpy(conversion->unit, text);
    conversion->further = is_also ? WR_PASCALS_PER_METRE : 1.0;
    find_converters(conversion, unit, is_also ? kind->also : kind->si);
    ut_free(unit);
    return conversion;
}

bool wr_quantity_to_si(enum wr_quantity quantity, const char *unit, double *value, char *fault, size_t size)
{
    const struct conversion *conversion = conversion_recall(quantity, unit);

    if (conversion == NULL)
        conversion = conversion_learn(quantity, unit, fault, size);
    if (conversion == NULL)
        return false;
    double si = conversion->per_si > 0.0 ? *value / conversion->per_si : cv_convert_double(conversion->to_si, *value);
    *value = si / conversion->further;
    return true;
}

bool wr_quantity_from_si(enum wr_quantity quantity, const char *unit, double *value)
{
    char fault[200] = "";
    const struct conversion *conversion = conversion_recall(quantity, unit);

    if (conversion == NULL)
        conversion = conversion_learn(quantity, unit, fault, sizeof fault);
    if (conversion == NULL)
        return false;
    double si = *value * conversion->further;
    *value = conversion->per_si > 0.0 ? si * conversion->per_si : cv_convert_double(conversion->from_si, si);
    return true;
}

/* Says what was found: the text, cut where it is long, and what is wrong with it. */
static bool fail(const char *text, const char *fault, char *found, size_t size)
{
    int length = (int)strlen(text);

    /* A cut stays between characters: bytes 10xxxxxx go on from the one before. */
    if (length > 60) {
        for (length = 57; length > 0 && ((unsigned char)text[length] & 0xc0) == 0x80;)
            length--;
    }
    snprintf(found, size, "\"%.*s%s\"%s%s", length, text, text[length] == '\0' ? "" : "...", *fault == ',' ? "" : " ",
             fault);
    return false;
}

bool wr_quantity_read(enum wr_quantity quantity, const char *text, double *value, char *found, size_t size)
{
    char fault[200] = "";
    char unit[WR_UNIT_LONGEST + 2];
    const char *start = text + strspn(text, " ");
    const char *end = wr_json_number_end(start);

    if (end != NULL && *end == ',')
        return fail(text, ", a number with a comma; write it without, and a fraction with a point", found, size);
    if (end == NULL || (*end != '\0' && strchr("0123456789.eE+", *end) != NULL))
        return fail(text, ", which does not start with a number such as 12, 0.5 or 1.5e-3", found, size);
    end += strspn(end, " ");
    size_t length = strlen(end);
    while (length > 0 && end[length - 1] == ' ')
        length--;
    if (length == 0)
        return fail(text, ", a number without its unit", found, size);
    snprintf(unit, sizeof unit, "%.*s", (int)(length < sizeof unit ? length : sizeof unit - 1), end);

    double number = strtod(start, NULL);
    if (!wr_quantity_to_si(quantity, unit, &number, fault, sizeof fault))
        return fail(text, fault, found, size);
    if (!isfinite(number))
        return fail(text, ", a number too large", found, size);
    *value = number;
    return true;
}

const char *wr_quantity_name(enum wr_quantity quantity)
{
    return wr_quantity_kinds[quantity].name;
}

const char *wr_quantity_si_unit(enum wr_quantity quantity)
{
    return wr_quantity_kinds[quantity].si;
}

char *wr_quantity_wanted(enum wr_quantity quantity, const char *example, char *buffer, size_t size)
{
    const struct wr_quantity_kind *kind = &wr_quantity_kinds[quantity];

    if (example != NULL)
        snprintf(buffer, size, "%s such as \"%s\"", kind->name, example);
    else if (strcmp(kind->us_example, kind->si_example) == 0)
        snprintf(buffer, size, "%s such as \"%s\"", kind->name, kind->us_example);
    else
        snprintf(buffer, size, "%s such as \"%s\" or \"%s\"", kind->name, kind->us_example, kind->si_example);
    return buffer;
}
