/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/scenario/units.h"

#include <assert.h>
#include <ctype.h>
#include <stdio.h>
#include <string.h>

#include "sim/scenario/nearest.h"

/* A unit and the text that defines it by those above; NULL for a base unit. */
struct unit_definition {
    const char *symbol;
    const char *means;
};

/* The inch, pound and US gallon (231 cubic inches) are exact: NIST Special Publication 811 (2008), appendix B. A year
 * is 365 days, as plants reckon. */
static const struct unit_definition definitions[] = {
    {"m", NULL},
    {"kg", NULL},
    {"s", NULL},
    {"K", NULL},
    {"%", "0.01"},
    {"mm", "0.001 m"},
    {"cm", "0.01 m"},
    {"um", "1e-6 m"},
    {"km", "1000 m"},
    {"in", "0.0254 m"},
    {"ft", "0.3048 m"},
    {"min", "60 s"},
    {"h", "3600 s"},
    {"d", "86400 s"},
    {"week", "604800 s"},
    {"year", "31536000 s"},
    {"L", "0.001 m3"},
    {"l", "0.001 m3"},
    {"mL", "1e-6 m3"},
    {"ML", "1000 m3"},
    {"gal", "3.785411784e-3 m3"},
    {"kgal", "3.785411784 m3"},
    {"Mgal", "3785.411784 m3"},
    {"gpm", "gal/min"},
    {"gpd", "gal/d"},
    {"MGD", "Mgal/d"},
    {"mgd", "Mgal/d"},
    {"g", "0.001 kg"},
    {"mg", "1e-6 kg"},
    {"ug", "1e-9 kg"},
    {"lb", "0.45359237 kg"},
    {"N", "kg.m/s2"},
    {"lbf", "4.4482216152605 N"},
    {"Pa", "N/m2"},
    {"kPa", "1000 Pa"},
    {"bar", "1e5 Pa"},
    {"mbar", "100 Pa"},
    {"psi", "lbf/in2"},
    {"degC", "K @ 273.15"},
    {"degR", "K/1.8"},
    {"degF", "degR @ 459.67"},
};

enum { DEFINITIONS = sizeof definitions / sizeof definitions[0] };

/* What people write and what they mean, where letters alone do not tell; only suggested, never taken. A word ends at
 * its first digit, so heads of water such as inH2O are listed by their letters. */
static const char *const spellings[][2] = {
    {"gallon", "gal"},  {"gallons", "gal"},  {"MG", "Mgal"},         {"gr", "mg"},     {"ppm", "mg/L"},
    {"ppb", "ug/L"},    {"liter", "L"},      {"litre", "L"},         {"sqft", "ft2"},  {"sf", "ft2"},
    {"cuft", "ft3"},    {"cf", "ft3"},       {"cfm", "ft3/min"},     {"feet", "ft"},   {"foot", "ft"},
    {"inch", "in"},     {"inches", "in"},    {"meter", "m"},         {"metre", "m"},   {"mH", "m"},
    {"ftH", "ft"},      {"inH", "in"},       {"psig", "psi"},        {"psid", "psi"},  {"percent", "%"},
    {"hr", "h"},        {"hrs", "h"},        {"hour", "h"},          {"hours", "h"},   {"minute", "min"},
    {"minutes", "min"}, {"sec", "s"},        {"second", "s"},        {"seconds", "s"}, {"day", "d"},
    {"days", "d"},      {"weeks", "week"},   {"years", "year"},      {"month", "d"},   {"C", "degC"},
    {"F", "degF"},      {"celsius", "degC"}, {"fahrenheit", "degF"}, {"micron", "um"}, {"per", "/"},
    {"cbm", "m3"},
};

/* Built when first needed; UDUNITS offers no way to share one between threads, so the main thread alone has it. */
static ut_system *unit_system;

static void define(ut_system *system, const struct unit_definition *row)
{
    ut_unit *unit = row->means == NULL ? ut_new_base_unit(system) : ut_parse(system, row->means, UT_ASCII);

    assert(unit != NULL);
    ut_status status = ut_map_symbol_to_unit(row->symbol, UT_ASCII, unit);
    assert(status == UT_SUCCESS);
    (void)status;
    ut_free(unit);
}

static ut_system *get_system(void)
{
    if (unit_system == NULL) {
        ut_set_error_message_handler(ut_ignore);
        unit_system = ut_new_system();
        assert(unit_system != NULL);
        for (size_t i = 0; i < DEFINITIONS; i++)
            define(unit_system, &definitions[i]);
    }
    return unit_system;
}

void wr_units_free(void)
{
    if (unit_system != NULL)
        ut_free_system(unit_system);
    unit_system = NULL;
}

static bool is_known(const char *word)
{
    for (size_t i = 0; i < DEFINITIONS; i++) {
        if (strcmp(word, definitions[i].symbol) == 0)
            return true;
    }
    return false;
}

const char *wr_unit_word(size_t number)
{
    return number < DEFINITIONS ? definitions[number].symbol : NULL;
}

const char *wr_unit_nearest(const char *word)
{
    const char *nearest = NULL;
    size_t least = WR_TOO_FAR;

    for (size_t i = 0; i < sizeof spellings / sizeof spellings[0]; i++) {
        if (strcmp(word, spellings[i][0]) == 0)
            return spellings[i][1];
    }
    for (size_t i = 0; i < DEFINITIONS; i++) {
        size_t distance = wr_word_distance(word, definitions[i].symbol);
        if (distance < least) {
            least = distance;
            nearest = definitions[i].symbol;
        }
    }
    return nearest;
}

/* Checks the grammar. The unit is rewritten on the way without its blanks. */
struct unit_text {
    const char *at;
    char tidy[2 * WR_UNIT_LONGEST + 1];
    size_t length;
    const char *whole;
    char *fault;
    size_t fault_size;
};

static bool check_unit(struct unit_text *text);

static bool fail_badly_written(struct unit_text *text)
{
    snprintf(text->fault, text->fault_size, "with the badly written unit \"%s\"", text->whole);
    return false;
}

static void take(struct unit_text *text)
{
    text->tidy[text->length++] = *text->at++;
}

static void skip_blanks(struct unit_text *text)
{
    while (*text->at == ' ')
        text->at++;
}

static bool check_word(struct unit_text *text)
{
    char word[WR_UNIT_LONGEST + 1];
    size_t length = 0;

    if (*text->at == '%')
        return take(text), true;
    while (isalpha((unsigned char)*text->at)) {
        word[length++] = *text->at;
        take(text);
    }
    word[length] = '\0';
    if (length == 0)
        return fail_badly_written(text);
    if (is_known(word))
        return true;
    const char *nearest = wr_unit_nearest(word);
    snprintf(text->fault, text->fault_size,
             nearest ? "with the unknown unit \"%s\" (did you mean \"%s\"?)" : "with the unknown unit \"%s\"", word,
             nearest);
    return false;
}

/* An exponent of one digit, where there is one. */
static bool check_exponent(struct unit_text *text)
{
    bool has_sign = false;

    if (*text->at == '^') {
        take(text);
        has_sign = true;
    }
    if (*text->at == '-') {
        take(text);
        has_sign = true;
    }
    if (!isdigit((unsigned char)*text->at))
        return has_sign ? fail_badly_written(text) : true;
    take(text);
    return isdigit((unsigned char)*text->at) ? fail_badly_written(text) : true;
}

static bool check_factor(struct unit_text *text)
{
    skip_blanks(text);
    if (*text->at != '(')
        return check_word(text) && check_exponent(text);
    take(text);
    if (!check_unit(text))
        return false;
    if (*text->at != ')')
        return fail_badly_written(text);
    take(text);
    return true;
}

static bool check_unit(struct unit_text *text)
{
    for (;;) {
        if (!check_factor(text))
            return false;
        skip_blanks(text);
        if (*text->at == '\0' || strchr("/*.", *text->at) == NULL)
            return true;
        take(text);
    }
}

ut_unit *wr_unit_read(const char *text, char *fault, size_t size)
{
    struct unit_text unit = {.at = text, .whole = text, .fault = fault, .fault_size = size};

    if (strlen(text) > WR_UNIT_LONGEST) {
        snprintf(fault, size, "with a unit of more than %d characters", WR_UNIT_LONGEST);
        return NULL;
    }
    /* UDUNITS takes more bytes than units need, such as @ for an offset. */
    if (text[strspn(text, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789%/^*(). -")] != '\0' ||
        !(isalpha((unsigned char)text[0]) || text[0] == '%') || !check_unit(&unit) || *unit.at != '\0') {
        if (fault[0] == '\0')
            fail_badly_written(&unit);
        return NULL;
    }
    unit.tidy[unit.length] = '\0';
    ut_unit *read = ut_parse(get_system(), unit.tidy, UT_ASCII);
    if (read == NULL)
        fail_badly_written(&unit);
    return read;
}

ut_unit *wr_unit_one(void)
{
    return ut_get_dimensionless_unit_one(get_system());
}

bool wr_units_are_alike(const ut_unit *a, const ut_unit *b)
{
    ut_unit *ratio = ut_divide(a, b);
    bool alike = ratio != NULL && ut_is_dimensionless(ratio) != 0;

    ut_free(ratio);
    return alike;
}
