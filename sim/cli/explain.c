/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/cli/cli.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Reading the call ---------------------------------------------------------------------------------------------------
 */

/* One thing is asked about, or a filter on a day. */
static bool asks_one_thing(const struct wr_call *call)
{
    const struct wr_topic *topic = &call->topic;
    const int things =
        (call->wash_filter != NULL) + (topic->finding != NULL) + (topic->filter != NULL || topic->day > 0);
    if (call->out != NULL) {
        wr_say_wrong("explain tells, and writes no folder");
        return false;
    }
    if (things <= 1)
        return true;
    wr_say_wrong("ask about a wash, a finding, a filter or a day: of these only --filter and --day go together");
    return false;
}

/* Opens the folder or the scenario. Returns an exit status. */
static int open_subject(const struct wr_call *call, struct wr_scenario **scenario, enum wr_show *show)
{
    struct wr_about about;
    *show = call->show;
    if (!wr_path_is_folder(call->operand)) {
        *scenario = wr_call_open(call, call->operand);
        return *scenario != NULL ? WR_EXIT_PASSES : WR_EXIT_FAULT;
    }
    const int status = wr_call_open_folder(call, call->operand, "told", scenario, &about);
    if (status != WR_EXIT_PASSES)
        return status;
    if (*show == WR_SHOW_AS_WRITTEN)
        *show = about.show;
    if (strcmp(about.command, "run") == 0)
        return WR_EXIT_PASSES;
    wr_say_wrong("%s was written by %s; explain tells of a run", call->operand, about.command);
    return WR_EXIT_WRONG;
}

/* Telling ------------------------------------------------------------------------------------------------------------
 */

static int tell(const struct wr_call *call, const struct wr_scenario *scenario, enum wr_show show)
{
    struct wr_topic topic = call->topic;
    char *name = call->wash_filter != NULL ? strndup(call->wash_filter, call->wash_filter_length) : NULL;
    topic.filter = name != NULL ? name : topic.filter;
    struct wr_answer *answer = wr_scenario_explain(scenario, &topic);
    int status = WR_EXIT_FAULT;
    if (answer == NULL)
        wr_say_wrong("out of memory");
    else {
        char *text = NULL;
        status = (int)wr_answer_outcome(answer);
        if (call->json)
            text = wr_answer_json(answer);
        else if (!call->quiet && status <= WR_EXIT_FAILS)
            text = wr_answer_text(answer, show);
        if (text != NULL && wr_print_text(text) != WR_EXIT_PASSES)
            status = WR_EXIT_FAULT;
        if (!call->json || status != WR_EXIT_WRONG) /* a document says what is wrong */
            wr_say_outcome(call->operand, scenario, answer);
        free(text);
    }
    wr_answer_close(answer);
    free(name);
    return status;
}

static int carry_out(const struct wr_call *call)
{
    struct wr_scenario *scenario = NULL;
    enum wr_show show;
    int status = asks_one_thing(call) ? open_subject(call, &scenario, &show) : WR_EXIT_WRONG;
    if (status == WR_EXIT_PASSES)
        status = tell(call, scenario, show);
    wr_scenario_close(scenario);
    return status;
}

const struct wr_command wr_command_explain = {
    .name = "explain",
    .operand = "DIR",
    .needs_operand = true,
    .summary = "why did a filter wait, and what happened in its wash?",
    .help = "Runs what a run folder keeps again, or a scenario in place of one, and tells in sentences how\n"
            "something came to pass: a wash from its call to its return to service (--wash \"Filter 2 3\"), a\n"
            "filter (--filter), a day (--day), what a filter did on a day (both), a finding (--finding). Unasked\n"
            "it tells of the longest wait, the worst finding of each class and the day of most washes.\n"
            "\n"
            "Every reason is one that the plant told as it ran, in the words of the report.\n"
            "\n"
            "It passes (0) when it has told, whether the run passes or not; there is no (1). A wash, filter, day\n"
            "or finding that the run has not got ends with 2.\n",
    .carry_out = carry_out};
