/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/cli/options.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* What each does --------------------------------------------------------------------------------------------------- */

static bool take_json(struct wr_call *call, const char *value)
{
    (void)value;
    call->json = true;
    return true;
}

static bool take_quiet(struct wr_call *call, const char *value)
{
    (void)value;
    call->quiet = true;
    return true;
}

static bool take_help(struct wr_call *call, const char *value)
{
    (void)value;
    call->help = true;
    return true;
}

static bool take_version(struct wr_call *call, const char *value)
{
    (void)value;
    call->version = true;
    return true;
}

static bool take_out(struct wr_call *call, const char *value)
{
    if (call->out != NULL) {
        wr_say_wrong("--out is given twice: one run folder a call");
        return false;
    }
    call->out = value;
    return true;
}

static bool take_units(struct wr_call *call, const char *value)
{
    static const char *const words[] = {"us", "si"};
    for (size_t i = 0; i < 2; i++)
        if (strcmp(value, words[i]) == 0) {
            call->show = i == 0 ? WR_SHOW_US : WR_SHOW_SI;
            return true;
        }
    wr_say_wrong("--units is us or si, not \"%s\"", value);
    return false;
}

/* There are never more settings than arguments, for which there is room. */
static bool take_set(struct wr_call *call, const char *value)
{
    call->settings[call->setting_count++] = value;
    return true;
}

static bool take_threads(struct wr_call *call, const char *value)
{
    const size_t digits = strspn(value, "0123456789");
    call->threads = digits > 0 && digits < 4 && value[digits] == '\0' ? strtoul(value, NULL, 10) : 0;
    if (call->threads >= 1 && call->threads <= 256)
        return true;
    wr_say_wrong("--threads is a whole number from 1 to 256, not \"%s\"", value);
    return false;
}

/* Options of comparisons ------------------------------------------------------------------------------------------ */

static bool take_variant(struct wr_call *call, const char *value)
{
    call->variants[call->variant_count++] = value;
    return true;
}

static bool take_as_written(struct wr_call *call, const char *value)
{
    (void)value;
    call->as_written = true;
    return true;
}

static bool take_rate(struct wr_call *call, const char *value)
{
    call->rate = value;
    return true;
}

/* Options of sizes ------------------------------------------------------------------------------------------------ */

static bool take_flow(struct wr_call *call, const char *value)
{
    call->wanted_flow = value;
    return true;
}

/* Reads a whole number of filters; returns what follows, NULL for none. */
static const char *take_filters(const char *text, size_t *filters)
{
    char *end;
    if (*text < '0' || *text > '9')
        return NULL;
    *filters = strtoul(text, &end, 10);
    return *filters >= 2 && *filters <= 24 ? end : NULL;
}

static bool take_counts(struct wr_call *call, const char *value)
{
    const char *rest = take_filters(value, &call->fewest);
    call->most = call->fewest;
    if (rest != NULL && strncmp(rest, " to ", 4) == 0)
        rest = take_filters(rest + 4, &call->most);
    if (rest != NULL && *rest == '\0' && call->fewest <= call->most)
        return true;
    wr_say_wrong("--count is a number of filters from 2 to 24, or a range such as \"3 to 6\", not \"%s\"", value);
    return false;
}

static bool take_simulate(struct wr_call *call, const char *value)
{
    (void)value;
    call->simulate = true;
    return true;
}

/* Options of pictures alone --------------------------------------------------------------------------------------- */

static bool take_picture(struct wr_call *call, const char *value)
{
    call->pictures[call->picture_count++] = value;
    return true;
}

static bool take_term(struct wr_call *call, const char *value)
{
    static const char *const words[] = {"png", "svg", "dumb"};
    call->term = value;
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (strcmp(value, words[i]) == 0)
            return true;
    wr_say_wrong("--term is png, svg or dumb, not \"%s\"", value);
    return false;
}

static bool take_from(struct wr_call *call, const char *value)
{
    call->from = value;
    return true;
}

static bool take_until(struct wr_call *call, const char *value)
{
    call->until = value;
    return true;
}

/* Options of runs in parts ---------------------------------------------------------------------------------------- */

static bool take_save(struct wr_call *call, const char *value)
{
    call->save = value;
    return true;
}

static bool take_resume(struct wr_call *call, const char *value)
{
    call->resume = value;
    return true;
}

/* Options of stories alone ---------------------------------------------------------------------------------------- */

/* A count from 1; false for anything else, which is said. */
static bool take_count(const char *option, const char *value, size_t length, size_t *count)
{
    *count = 0;
    for (size_t i = 0; i < length && value[i] >= '0' && value[i] <= '9' && *count < 100000000; i++)
        *count = 10 * *count + (size_t)(value[i] - '0');
    if (*count > 0 && strspn(value, "0123456789") == length)
        return true;
    wr_say_wrong("%s wants a number from 1 on, not \"%s\"", option, value);
    return false;
}

/* The filter's name may have blanks; the number stands after the last. */
static bool take_wash(struct wr_call *call, const char *value)
{
    const char *blank = strrchr(value, ' ');
    if (blank == NULL || blank == value) {
        wr_say_wrong("--wash wants a filter and a number, such as \"Filter 2 3\", not \"%s\"", value);
        return false;
    }
    call->wash_filter_length = (size_t)(blank - value);
    call->wash_filter = value;
    return take_count("--wash", blank + 1, strlen(blank + 1), &call->topic.wash);
}

static bool take_filter(struct wr_call *call, const char *value)
{
    call->topic.filter = value;
    return true;
}

static bool take_day(struct wr_call *call, const char *value)
{
    return take_count("--day", value, strlen(value), &call->topic.day);
}

static bool take_finding(struct wr_call *call, const char *value)
{
    call->topic.finding = value;
    return true;
}

static bool take_all(struct wr_call *call, const char *value)
{
    (void)value;
    call->whole_review = true;
    return true;
}

static bool take_expansion(struct wr_call *call, const char *value)
{
    call->expansion = value;
    return true;
}

/* Options of studies ----------------------------------------------------------------------------------------------- */

static bool take_wish(struct wr_call *call, const char *value)
{
    call->wishes[call->wish_count++] = value;
    return true;
}

static bool take_judged(struct wr_call *call, const char *value)
{
    static const char *const words[] = {
        [WR_JUDGED_FIRM] = "firm", [WR_JUDGED_ALL_IN] = "all-in", [WR_JUDGED_RUN] = "run"};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (strcmp(value, words[i]) == 0) {
            call->judged = (enum wr_judged)i;
            return true;
        }
    wr_say_wrong("--judged is firm, all-in or run, not \"%s\"", value);
    return false;
}

static bool take_map(struct wr_call *call, const char *value)
{
    (void)value;
    call->map = true;
    return true;
}

static bool take_shown(struct wr_call *call, const char *value)
{
    call->shown[call->shown_count++] = value;
    return true;
}

static bool take_step(struct wr_call *call, const char *value)
{
    (void)value;
    call->in_step = true;
    return true;
}

static bool take_csv(struct wr_call *call, const char *value)
{
    (void)value;
    call->csv = true;
    return true;
}

static bool take_question(struct wr_call *call, const char *value)
{
    call->of_firm = strcmp(value, "firm") == 0;
    if (call->of_firm || strcmp(value, "run") == 0)
        return true;
    wr_say_wrong("--ask is run or firm, not \"%s\"", value);
    return false;
}

static bool take_skip(struct wr_call *call, const char *value)
{
    const size_t digits = strspn(value, "0123456789");
    call->skip = strtoul(value, NULL, 10);
    if (digits > 0 && digits < 7 && value[digits] == '\0')
        return true;
    wr_say_wrong("--skip is a number of points, not \"%s\"", value);
    return false;
}

static bool take_tries(struct wr_call *call, const char *value)
{
    const size_t digits = strspn(value, "0123456789");
    call->tries = strtoul(value, NULL, 10);
    if (digits > 0 && digits < 6 && value[digits] == '\0' && call->tries >= 1 && call->tries <= 10000)
        return true;
    wr_say_wrong("--tries is a whole number from 1 to 10000, not \"%s\"", value);
    return false;
}

static bool take_aim(struct wr_call *call, const char *value)
{
    call->for_firm = strcmp(value, "firm") == 0;
    if (call->for_firm || strcmp(value, "room") == 0)
        return true;
    wr_say_wrong("--for is room or firm, not \"%s\"", value);
    return false;
}

const struct wr_option wr_options[] = {
    {"--json", NULL, "write the answer as one JSON document, in SI, and nothing else", take_json, NULL},
    {"--out", "DIR", "write a run folder; without it nothing is written", take_out, NULL},
    {"--set", "POINTER=VALUE", "change the scenario first: \"/horizon=365 d\"; as often as wanted", take_set, NULL},
    {"--units", "us|si", "units of the report; else those that the scenario asks for", take_units, NULL},
    {"--threads", "N", "threads that work at a study; else as many as there are cores", take_threads, NULL},
    {"--quiet", NULL, "no report: the exit status speaks", take_quiet, NULL},
    {"--all", NULL, "of check: every row of guidance, not only those that are not met", take_all, "check"},
    {"--expand", "SHARE", "of bed: the expansion whose rate is wanted; else \"40 %\"", take_expansion, "bed"},
    {"--of", "POINTER", "of margin: a number to be moved, alone or with =LEAST to MOST", take_wish, "margin"},
    {"--judged", "firm|all-in|run", "of margin: by which run the plant is judged; else as firm does", take_judged,
     "margin"},
    {"--map", NULL, "of margin: two numbers together, with the boundary traced", take_map, "margin"},
    {"--axis", "POINTER=VALUES", "of sweep: \"1 mg/L to 5 mg/L in 9\", or a list with commas", take_wish, "sweep"},
    {"--in-step", NULL, "of sweep: axes move together, and are not crossed", take_step, "sweep"},
    {"--ask", "run|firm", "of sweep: what is asked at each point; else run", take_question, "sweep"},
    {"--show", "POINTER", "of sweep: a figure of the answer, as often as wanted", take_shown, "sweep"},
    {"--csv", NULL, "of sweep: the points as CSV in SI on standard output, and nothing else", take_csv, "sweep"},
    {"--skip", "N", "of sweep: leave out points at the start that are done", take_skip, "sweep"},
    {"--variant", "NAME: POINTER=VALUE", "of compare: the scenario so changed; changes are parted by \"; \"",
     take_variant, "compare"},
    {"--as-written", NULL, "of compare: each under its own demand, not all under that of the first", take_as_written,
     "compare"},
    {"--rate", "SHARE", "of compare and growth: growth of demand a year, \"2 %\"", take_rate, "compare growth"},
    {"--firm", "FLOW", "of size: what is wanted with a filter out: \"0.5 Mgal/d\"", take_flow, "size"},
    {"--count", "N|N to M", "of size: numbers of filters that are listed; else \"2 to 8\"", take_counts, "size"},
    {"--simulate", NULL, "of size: search the firm capacity of each row", take_simulate, "size"},
    {"--may", "POINTER=VALUES", "of rota: what may be changed, and within which bounds", take_wish, "rota"},
    {"--for", "room|firm", "of rota: what is wanted most; else room", take_aim, "rota"},
    {"--tries", "N", "of rota: rotas tried at most; else 400, or 80 for firm", take_tries, "rota"},
    {"--picture", "NAME", "of plot: draw this picture, not all; as often as wanted", take_picture, "plot"},
    {"--term", "png|svg|dumb", "of plot: kind of file, or as text on standard output; else png", take_term, "plot"},
    {"--until", "MOMENT", "of run and plot: up to \"day 3\" or \"day 3 at 18:20\"; else to the end", take_until,
     "run plot"},
    {"--save", "FILE", "of run: save it as it stands at --until, to be gone on with", take_save, "run"},
    {"--resume", "FILE", "of run: go on from there", take_resume, "run"},
    {"--from", "MOMENT", "of plot: \"day 3\" or \"day 3 at 18:20\"; else around the longest wait", take_from, "plot"},
    {"--wash", "\"FILTER N\"", "of explain: the filter's Nth wash, as \"Filter 2 3\"", take_wash, "explain"},
    {"--filter", "NAME", "of explain: a filter's washes, and its longest wait", take_filter, "explain"},
    {"--day", "N", "of explain: a day of the run, with --filter what it did then", take_day, "explain"},
    {"--finding", "KIND", "of explain: a finding, by its key in the document: washes_waited", take_finding, "explain"},
    {"--help", NULL, "this help, or that of a command", take_help, NULL},
    {"--version", NULL, "the version", take_version, NULL},
};

bool wr_is_among(const char *word, const char *words)
{
    const size_t length = strlen(word);
    for (const char *at = words; *at != '\0'; at += strcspn(at, " "), at += strspn(at, " "))
        if (strcspn(at, " ") == length && strncmp(at, word, length) == 0)
            return true;
    return false;
}

const size_t wr_option_count = sizeof wr_options / sizeof *wr_options;

void wr_call_list_options(const char *command)
{
    for (size_t i = 0; i < wr_option_count; i++) {
        char name[40];
        const char *meaning = wr_options[i].meaning;
        if (wr_options[i].of != NULL && (command == NULL || !wr_is_among(command, wr_options[i].of)))
            continue;
        if (wr_options[i].of != NULL)
            meaning = strstr(meaning, ": ") + 2; /* past whose it is, which is plain here */
        snprintf(name, sizeof name, "%s %s", wr_options[i].name,
                 wr_options[i].value != NULL ? wr_options[i].value : "");
        printf("  %-21s %s\n", name, meaning);
    }
}
