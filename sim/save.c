/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/handles.h"
#include "sim/report/csv.h"
#include "sim/report/folder.h"
#include "sim/report/json.h"

#include <cjson/cJSON.h>
#include <stdio.h>
#include <stdlib.h>

const char *wr_question_key(enum wr_question question)
{
    static const char *const keys[] = {
        [WR_QUESTION_CHECK] = "check",     [WR_QUESTION_RUN] = "run",       [WR_QUESTION_FIRM] = "firm",
        [WR_QUESTION_COMPARE] = "compare", [WR_QUESTION_GROWTH] = "growth", [WR_QUESTION_EXPLAIN] = "explain",
        [WR_QUESTION_BED] = "bed",         [WR_QUESTION_MARGIN] = "margin", [WR_QUESTION_SWEEP] = "sweep",
        [WR_QUESTION_ROTA] = "rota",       [WR_QUESTION_SIZE] = "size"};
    return keys[question];
}

/* How the answer was come by: enough to ask again and to see that nothing was changed. */
static char *about_text(const struct wr_answer *answer, enum wr_units units)
{
    const struct wr_subject subject = wr_scenario_subject(answer->scenario);
    struct cJSON *about = wr_report_document(&subject);
    wr_json_word(about, "command", wr_question_key(answer->question));
    wr_json_number(about, "seed", subject.definition->seed);
    if (answer->question == WR_QUESTION_BED)
        wr_json_number(about, "wanted_expansion", answer->beds.wanted);
    if (subject.whole_horizon > 0)
        wr_json_number(about, "ended_at_s", subject.definition->horizon);
    wr_json_word(about, "report_units", units == WR_UNITS_SI ? "si" : "us");
    if (answer->asked != NULL)
        cJSON_AddItemToObject(about, "asked", cJSON_Duplicate(answer->asked, true));
    char *text = wr_json_text(about);
    cJSON_Delete(about);
    return text;
}

static void write_text(FILE *out, const void *what)
{
    fputs(what, out);
}

static void write_washes(FILE *out, const void *what)
{
    wr_csv_washes(out, what);
}

static void write_spans(FILE *out, const void *what)
{
    wr_csv_spans(out, what);
}

static void write_tanks(FILE *out, const void *what)
{
    wr_csv_tanks(out, what);
}

static void write_sludge(FILE *out, const void *what)
{
    wr_csv_sludge(out, what);
}

static void write_emergency(FILE *out, const void *what)
{
    wr_csv_emergency(out, what);
}

static void write_ladder(FILE *out, const void *what)
{
    wr_csv_ladder(out, what);
}

static void write_margins(FILE *out, const void *what)
{
    wr_csv_margins(out, what);
}

static void write_map(FILE *out, const void *what)
{
    wr_csv_map(out, what);
}

static void write_sweep(FILE *out, const void *what)
{
    wr_csv_sweep(out, what);
}

char *wr_answer_table(const struct wr_answer *answer)
{
    char *text = NULL;
    size_t length = 0;
    if (answer->question != WR_QUESTION_SWEEP || answer->outcome > WR_OUTCOME_FAILS)
        return NULL;
    FILE *out = open_memstream(&text, &length);
    if (out == NULL)
        return NULL;
    wr_csv_sweep(out, &answer->sweep);
    return fclose(out) == 0 ? text : NULL;
}

/* The scenarios of a comparison after the first, as they were run; returns how many. */
static size_t list_compared(const struct wr_answer *answer, struct wr_folder_file *files)
{
    static const char *const names[WR_COMPARED_MOST - 1] = {"scenario-B.json", "scenario-C.json", "scenario-D.json",
                                                            "scenario-E.json", "scenario-F.json"};
    size_t count = 0;
    if (answer->question != WR_QUESTION_COMPARE)
        return 0;
    for (; count + 1 < answer->comparison.count; count++)
        files[count] = (struct wr_folder_file){names[count], write_text, answer->comparison.items[count + 1].text};
    return count;
}

/* The tables of a run; returns how many. Those of tanks are left out where the plant has nothing to put there. */
static size_t list_run(const struct wr_run *run, struct wr_folder_file *files)
{
    size_t count = 0;
    files[count++] = (struct wr_folder_file){"washes.csv", write_washes, run};
    files[count++] = (struct wr_folder_file){"spans.csv", write_spans, run};
    if (run->plant.has_settling) {
        files[count++] = (struct wr_folder_file){"tanks.csv", write_tanks, run};
        files[count++] = (struct wr_folder_file){"sludge.csv", write_sludge, run};
    }
    if (run->plant.has_emergency)
        files[count++] = (struct wr_folder_file){"emergency.csv", write_emergency, run};
    return count;
}

enum wr_saved wr_answer_save(const struct wr_answer *answer, const char *folder, enum wr_show show, char *fault,
                             size_t size)
{
    if (answer->outcome > WR_OUTCOME_FAILS || answer->question == WR_QUESTION_EXPLAIN) {
        snprintf(fault, size, "there is no answer to write to %s", folder);
        return WR_SAVE_REFUSED;
    }
    char *about = about_text(answer, wr_answer_units(answer, show));
    char *json = wr_answer_json(answer), *report = wr_answer_text(answer, show);
    struct wr_folder_file files[9 + WR_COMPARED_MOST] = {{"scenario.json", write_text, answer->scenario->text},
                                                         {"answer.json", write_text, json},
                                                         {"report.txt", write_text, report}};
    size_t count = 3;
    if (answer->question == WR_QUESTION_RUN)
        count += list_run(&answer->run, &files[count]);
    else if (answer->question == WR_QUESTION_FIRM)
        files[count++] = (struct wr_folder_file){"ladder.csv", write_ladder, &answer->firm};
    else if (answer->question == WR_QUESTION_MARGIN) {
        files[count++] = (struct wr_folder_file){"margin.csv", write_margins, &answer->margins};
        if (answer->margins.has_map)
            files[count++] = (struct wr_folder_file){"map.csv", write_map, &answer->margins};
    }
    if (answer->question == WR_QUESTION_SWEEP)
        files[count++] = (struct wr_folder_file){"sweep.csv", write_sweep, &answer->sweep};
    count += list_compared(answer, &files[count]);
    files[count++] = (struct wr_folder_file){"about.json", write_text, about};
    static const enum wr_saved saved[] = {
        [WR_FOLDER_WRITTEN] = WR_SAVED, [WR_FOLDER_REFUSED] = WR_SAVE_REFUSED, [WR_FOLDER_FAILED] = WR_SAVE_FAILED};
    const enum wr_folder_status status = wr_folder_write(folder, files, count, fault, size);
    free(about);
    free(json);
    free(report);
    return saved[status];
}
