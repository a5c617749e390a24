/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Answers that tell how something in a run came to pass. */

#include "sim/handles.h"
#include "sim/report/json.h"

#include <stdlib.h>

/* A run that broke off, or a topic that is not of it. */
static void put_fault(struct wr_answer *answer, const struct wr_subject *subject)
{
    answer->document = wr_report_document(subject);
    wr_json_word(answer->document, "fault", answer->message);
}

struct wr_answer *wr_scenario_explain(const struct wr_scenario *scenario, const struct wr_topic *topic)
{
    struct wr_answer *answer = wr_answer_begin(scenario, WR_QUESTION_EXPLAIN);
    if (answer == NULL || !answer->worked)
        return answer;
    const struct wr_subject subject = wr_scenario_subject(scenario);
    wr_run_make(&answer->run, subject.definition,
                &(struct wr_run_options){.keeps_lists = true, .diary = &answer->diary});
    wr_answer_end(answer, answer->run.end, answer->run.message, true);
    const struct wr_teller teller = {.run = &answer->run, .diary = &answer->diary};
    const struct wr_asked asked = {
        .filter = topic->filter, .wash = topic->wash, .day = topic->day, .finding = topic->finding};
    if (answer->outcome == WR_OUTCOME_PASSES &&
        !wr_stories_choose(&answer->stories, &teller, &asked, answer->message, sizeof answer->message))
        answer->outcome = WR_OUTCOME_BAD_SCENARIO;
    if (answer->outcome == WR_OUTCOME_PASSES)
        answer->document = wr_report_explain_document(&subject, &teller, &answer->stories);
    else
        put_fault(answer, &subject);
    return answer;
}
