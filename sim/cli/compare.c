/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/cli/cli.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The scenarios of a call, opened. */
struct opened {
    struct wr_named_scenario named[WR_COMPARED_SCENARIOS];
    struct wr_scenario *scenarios[WR_COMPARED_SCENARIOS]; /* owned */
    char *names[WR_COMPARED_SCENARIOS];                   /* of variants, owned */
    size_t count;
};

bool wr_call_growth(const struct wr_call *call, double *growth)
{
    char fault[320];
    *growth = 0;
    if (call->rate == NULL || wr_growth_read(call->rate, growth, fault, sizeof fault))
        return true;
    wr_say_wrong("--rate: %s", fault);
    return false;
}

/* Adds a scenario; returns an exit status. */
static int add(struct opened *opened, const char *name, struct wr_scenario *scenario)
{
    if (scenario == NULL) {
        wr_say_wrong("out of memory");
        return WR_EXIT_FAULT;
    }
    opened->scenarios[opened->count] = scenario;
    opened->named[opened->count++] = (struct wr_named_scenario){name, scenario};
    return WR_EXIT_PASSES;
}

/* Variants -------------------------------------------------------------------------------------------------------- */

/* Where the first setting of a variant starts, after its name, a colon and blanks; NULL where it has no name or none.
 */
static const char *settings_of(const char *variant)
{
    for (const char *colon = variant; (colon = strchr(colon, ':')) != NULL; colon++) {
        const char *at = colon + 1;
        while (isspace((unsigned char)*at))
            at++;
        if (*at == '/' && colon > variant)
            return at;
    }
    return NULL;
}

/* Parts "A=1; /B=2" in place: a semicolon with a pointer after it begins the next. Returns how many. */
static size_t part_settings(char *text, const char **settings)
{
    size_t count = 0;
    settings[count++] = text;
    for (char *at = text; (at = strchr(at, ';')) != NULL; at++) {
        char *next = at + 1;
        while (isspace((unsigned char)*next))
            next++;
        if (*next == '/') {
            *at = '\0';
            settings[count++] = next;
        }
    }
    return count;
}

/* Opens the first scenario with the changes of a variant after those of --set. Returns an exit status. */
static int open_variant(struct opened *opened, const struct wr_call *call, const char *variant)
{
    const char *first = settings_of(variant);
    if (first == NULL) {
        wr_say_wrong("--variant is a name and what it changes, \"a fourth filter: /filters/0/count=4\", not \"%s\"",
                     variant);
        return WR_EXIT_WRONG;
    }
    char *name = strndup(variant, strcspn(variant, ":")), *text = strdup(first);
    const char **settings = calloc(call->setting_count + strlen(variant) + 1, sizeof *settings);
    int status = WR_EXIT_FAULT;
    if (name != NULL && text != NULL && settings != NULL) {
        memcpy(settings, call->settings, call->setting_count * sizeof *settings);
        struct wr_call changed = *call;
        changed.settings = settings;
        changed.setting_count += part_settings(text, settings + call->setting_count);
        opened->names[opened->count] = name;
        status = add(opened, name, wr_call_open(&changed, call->operand));
    }
    free(text);
    free(settings);
    return status;
}

/* The call -------------------------------------------------------------------------------------------------------- */

static bool makes_sense(const struct wr_call *call)
{
    const size_t count = call->operand_count + call->variant_count;
    size_t inputs = 0;
    for (size_t i = 0; i < call->operand_count; i++)
        inputs += strcmp(call->operands[i], "-") == 0;
    if (count < 2)
        wr_say_wrong("compare wants two scenarios, or one and a --variant");
    else if (count > WR_COMPARED_SCENARIOS)
        wr_say_wrong("compare takes at most %d scenarios, variants among them, not %zu", (int)WR_COMPARED_SCENARIOS,
                     count);
    else if (inputs > 1 || (inputs == 1 && call->variant_count > 0 && strcmp(call->operand, "-") == 0))
        wr_say_wrong("standard input can be read only once");
    else
        return true;
    return false;
}

static int open_all(struct opened *opened, const struct wr_call *call)
{
    int status = WR_EXIT_PASSES;
    for (size_t i = 0; status == WR_EXIT_PASSES && i < call->operand_count; i++)
        status = add(opened, call->operands[i], wr_call_open(call, call->operands[i]));
    for (size_t i = 0; status == WR_EXIT_PASSES && i < call->variant_count; i++)
        status = open_variant(opened, call, call->variants[i]);
    return status;
}

/* Complaints about all that cannot be read, not only the first. */
static bool all_are_good(const struct opened *opened)
{
    bool good = true;
    for (size_t i = 0; i < opened->count; i++) {
        if (wr_scenario_is_good(opened->scenarios[i]))
            continue;
        char *complaints = wr_scenario_complaints(opened->scenarios[i]);
        fputs(complaints, stderr);
        free(complaints);
        good = false;
    }
    return good;
}

static int ask(const struct wr_call *call, const struct opened *opened, double growth)
{
    const struct wr_work work = wr_call_work(call, false);
    wr_scenario_set_work(opened->scenarios[0], &work);
    struct wr_answer *answer = wr_scenarios_compare(opened->named, opened->count, call->as_written, growth);
    wr_call_end_work();
    int status = WR_EXIT_WRONG;
    if (answer != NULL && !call->json && wr_answer_outcome(answer) == WR_OUTCOME_BAD_SCENARIO) {
        /* One that is good as written may not be under what the first is asked. */
        char *complaints = wr_answer_text(answer, call->show);
        fputs(complaints, stderr);
        free(complaints);
    } else
        status = wr_call_hand_over(call, opened->scenarios[0], answer);
    wr_answer_close(answer);
    return status;
}

static int carry_out(const struct wr_call *call)
{
    struct opened opened = {.count = 0};
    double growth;
    if (!makes_sense(call) || !wr_call_growth(call, &growth))
        return WR_EXIT_WRONG;
    int status = open_all(&opened, call);
    if (status == WR_EXIT_PASSES)
        status = call->json || all_are_good(&opened) ? ask(call, &opened, growth) : WR_EXIT_WRONG;
    for (size_t i = 0; i < opened.count; i++) {
        wr_scenario_close(opened.scenarios[i]);
        free(opened.names[i]);
    }
    return status;
}

const struct wr_command wr_command_compare = {
    .name = "compare",
    .operand = "FILE...",
    .needs_operand = true,
    .takes_many = true,
    .summary = "what does a change of the plant bring, and what does it leave as it was?",
    .help = "Sets scenarios beside the first: firm capacities and what limits them (see \"washrota help firm\"),\n"
            "a run of each, findings that are new or gone, and what was changed between the files. A variant\n"
            "is the first scenario, changed: --variant \"a fourth filter: /filters/0/count=4\". All run under\n"
            "the start, horizon, seed and demand of the first, unless --as-written. With --rate it says how\n"
            "many years of growth each buys. At most six scenarios, variants among them.\n"
            "\n"
            "It passes (0) when none is worse than the first: neither firm capacity is lower by 1 % of the\n"
            "filter firm capacity or more, and no run has a failing finding that the first has not. Otherwise\n"
            "it fails (1). These are simulations, not approved or guaranteed capacities.\n",
    .carry_out = carry_out};
