/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/picture.h"

#include "sim/handles.h"
#include "sim/scenario/date.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

bool wr_picture_at(size_t place, struct wr_picture *picture)
{
    const struct wr_picture_row *row = wr_picture_row(place);
    if (row == NULL)
        return false;
    *picture = (struct wr_picture){.name = row->name,
                                   .meaning = row->meaning,
                                   .of = row->of,
                                   .takes_several = row->takes_several,
                                   .with_folder = row->with_folder};
    return true;
}

bool wr_scenario_moment(const struct wr_scenario *scenario, const char *text, double *seconds)
{
    static const double day_length = 86400;
    const double into_day = fmod(scenario->reading.definition.start, day_length);
    double clock = 0;
    char *end;
    if (strncmp(text, "day ", 4) == 0)
        text += 4;
    if (!isdigit((unsigned char)*text))
        return false;
    const long day = strtol(text, &end, 10);
    if (strncmp(end, " at ", 4) == 0) {
        if (!wr_clock_read(end + 4, &clock))
            return false;
    } else if (*end != '\0')
        return false;
    *seconds = ((double)day - 1) * day_length + clock - into_day;
    return true;
}

/* What the answer holds, the rest being NULL. */
static struct wr_drawn drawn_of(const struct wr_answer *answer, enum wr_show show)
{
    struct wr_drawn drawn = {.definition = wr_scenario_subject(answer->scenario).definition,
                             .units = wr_answer_units(answer, show)};
    switch (answer->question) {
    case WR_QUESTION_RUN:
        drawn.run = &answer->run;
        drawn.series = &answer->series;
        break;
    case WR_QUESTION_BED:
        drawn.beds = &answer->beds;
        break;
    case WR_QUESTION_MARGIN:
        drawn.margins = &answer->margins;
        break;
    case WR_QUESTION_SWEEP:
        drawn.sweep = &answer->sweep;
        break;
    case WR_QUESTION_COMPARE:
        drawn.comparison = &answer->comparison;
        break;
    default:
        drawn.firm = &answer->firm;
        break;
    }
    return drawn;
}

bool wr_answer_has_picture(const struct wr_answer *answer, const char *name)
{
    const struct wr_picture_row *row = wr_picture_named(name);
    if (row == NULL || answer->outcome > WR_OUTCOME_FAILS)
        return false;
    const bool is_watched = answer->question != WR_QUESTION_RUN || answer->has_series;
    const bool right_kind = strcmp(row->of, wr_question_key(answer->question)) == 0 && is_watched;
    const struct wr_drawn drawn = drawn_of(answer, WR_SHOW_AS_WRITTEN);
    return right_kind && (row->applies == NULL || row->applies(&drawn));
}

char *wr_answers_picture(const struct wr_answer *const *answers, size_t count, const char *name, enum wr_show show)
{
    struct wr_page page = {0};
    struct wr_drawn *drawn = calloc(count, sizeof *drawn);
    if (drawn == NULL)
        return NULL;
    for (size_t i = 0; i < count; i++)
        drawn[i] = drawn_of(answers[i], show);
    wr_picture_head(&page, drawn);
    wr_picture_named(name)->put(&page, drawn, count);
    free(drawn);
    return wr_page_take(&page);
}
