/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/cli/cli.h"
#include "sim/cli/gnuplot.h"

#include <errno.h>
#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* A run folder or a scenario, asked again. */
struct subject {
    struct wr_scenario *scenario;
    struct wr_answer *answer;
    enum wr_show show; /* units of its report */
    char of[16];       /* command that is asked again */
};

/* Asking again ---------------------------------------------------------------------------------------------------- */

/* True for a command whose answers can be drawn. */
static bool has_pictures(const char *command)
{
    struct wr_picture picture;
    for (size_t p = 0; wr_picture_at(p, &picture); p++)
        if (strcmp(picture.of, command) == 0)
            return true;
    return false;
}

/* What a scenario in place of a folder is asked: what the first picture wanted is of, but never a search for a firm
 * capacity, else a run. */
static const char *question_of(const struct wr_call *call)
{
    return call->picture_count > 0 && strcmp(call->pictures[0], "bed") == 0 ? "bed" : "run";
}

/* Opens the scenario of a run folder. Returns an exit status. */
static int open_folder(struct subject *subject, const struct wr_call *call, const char *folder)
{
    struct wr_about about;
    const int status = wr_call_open_folder(call, folder, "drawn", &subject->scenario, &about);
    if (status != WR_EXIT_PASSES)
        return status;
    subject->show = about.show;
    snprintf(subject->of, sizeof subject->of, "%s", about.command);
    if (has_pictures(about.command))
        return WR_EXIT_PASSES;
    wr_say_wrong("%s was written by %s, of which there is no picture", folder, about.command);
    return WR_EXIT_WRONG;
}

/* Runs the plant again and keeps the stretch that was asked for. NULL, with what is wrong said, where there is none. */
static struct wr_answer *watch(const struct wr_call *call, const struct wr_scenario *scenario)
{
    double from = (double)NAN, until = HUGE_VAL;
    const bool asked = call->from != NULL || call->until != NULL;
    if (wr_scenario_is_good(scenario) &&
        (!wr_call_moment(scenario, "--from", call->from, asked ? 0 : (double)NAN, &from) ||
         !wr_call_moment(scenario, "--until", call->until, HUGE_VAL, &until)))
        return NULL;
    double horizon = 0;
    struct wr_answer *answer = wr_scenario_watch(scenario, from, until);
    if (answer == NULL || !asked || !wr_answer_number(answer, "/horizon_s", &horizon))
        return answer;
    if (from < until && from < horizon && until > 0)
        return answer;
    wr_say_wrong("the run has no stretch from %s until %s", call->from != NULL ? call->from : "its start",
                 call->until != NULL ? call->until : "its end");
    wr_answer_close(answer);
    return NULL;
}

/* What a study's folder was asked, once more. NULL, with what is wrong said, for a folder that does not tell. */
static struct wr_answer *ask_study(const struct wr_call *call, struct subject *subject, const char *folder)
{
    char fault[PATH_MAX + 128];
    const struct wr_work work = wr_call_work(call, false);
    wr_scenario_set_work(subject->scenario, &work);
    struct wr_answer *answer = wr_folder_ask(folder, subject->scenario, fault, sizeof fault);
    wr_call_end_work();
    if (answer == NULL)
        wr_say_wrong("%s", fault);
    return answer;
}

static struct wr_answer *ask(const struct wr_call *call, struct subject *subject, const char *operand)
{
    if (strcmp(subject->of, "run") == 0)
        return watch(call, subject->scenario);
    if (strcmp(subject->of, "bed") == 0)
        return wr_scenario_bed(subject->scenario);
    return strcmp(subject->of, "firm") == 0 ? wr_scenario_firm(subject->scenario) : ask_study(call, subject, operand);
}

/* Opens a folder or a scenario and asks again. Returns an exit status. */
static int ask_again(struct subject *subject, const struct wr_call *call, const char *operand)
{
    *subject = (struct subject){.show = WR_SHOW_AS_WRITTEN};
    snprintf(subject->of, sizeof subject->of, "%s", question_of(call));
    if (wr_path_is_folder(operand)) {
        const int status = open_folder(subject, call, operand);
        if (status != WR_EXIT_PASSES)
            return status;
    } else
        subject->scenario = wr_call_open(call, operand);
    if (subject->scenario == NULL) {
        wr_say_wrong("out of memory");
        return WR_EXIT_FAULT;
    }
    subject->answer = ask(call, subject, operand);
    if (subject->answer == NULL)
        return WR_EXIT_WRONG;
    wr_say_outcome(operand, subject->scenario, subject->answer);
    const enum wr_outcome outcome = wr_answer_outcome(subject->answer);
    return outcome <= WR_OUTCOME_FAILS ? WR_EXIT_PASSES : (int)outcome;
}

/* Drawing --------------------------------------------------------------------------------------------------------- */

/* True for a picture that the call wants. */
static bool is_wanted(const struct wr_call *call, const char *name)
{
    for (size_t i = 0; i < call->picture_count; i++)
        if (strcmp(call->pictures[i], name) == 0)
            return true;
    return call->picture_count == 0;
}

static bool has_picture(const struct subject *subjects, size_t count, const struct wr_picture *picture)
{
    if (count > 1 && !picture->takes_several)
        return false;
    for (size_t i = 0; i < count; i++)
        if (!wr_answer_has_picture(subjects[i].answer, picture->name))
            return false;
    return true;
}

/* Where a picture goes: a file in the folder asked for, else in the run folder. False for a name too long. */
static bool path_of(const struct wr_call *call, const struct wr_drawing *drawing, char *path, size_t size)
{
    const char *folder = call->out != NULL ? call->out : call->operand;
    const size_t length = (size_t)snprintf(path, size, "%s/%s.%s", folder, drawing->name, drawing->term);
    if (length >= size)
        wr_say_wrong("the name of the folder is too long");
    return length < size;
}

static int draw(const struct wr_call *call, const struct subject *subjects, size_t count, const char *name)
{
    const struct wr_answer **answers = calloc(count, sizeof *answers);
    if (answers == NULL)
        return WR_EXIT_FAULT;
    for (size_t i = 0; i < count; i++)
        answers[i] = subjects[i].answer;
    char *text =
        wr_answers_picture(answers, count, name, call->show != WR_SHOW_AS_WRITTEN ? call->show : subjects[0].show);
    const struct wr_drawing drawing = {.text = text, .name = name, .term = call->term != NULL ? call->term : "png"};
    char path[PATH_MAX];
    int status;
    if (strcmp(drawing.term, "dumb") == 0)
        status = wr_gnuplot_stream(&drawing, stdout);
    else if (!path_of(call, &drawing, path, sizeof path))
        status = WR_EXIT_WRONG;
    else {
        status = wr_gnuplot_file(&drawing, path);
        if (status == WR_EXIT_PASSES && !call->quiet)
            printf("%s\n", path);
    }
    free(text);
    free(answers);
    return status;
}

static const char *what_it_is_of(const char *command)
{
    static const char *const words[][2] = {{"run", "a run, of a plant that has what it shows"},
                                           {"firm", "a firm capacity, of a plant that has a nameplate"},
                                           {"bed", "beds in their wash"},
                                           {"margin", "the run folder of a margin with --map"},
                                           {"sweep", "the run folder of a sweep that has numbers"},
                                           {"compare", "the run folder of a compare"}};
    size_t i = 0;
    while (strcmp(words[i][0], command) != 0)
        i++;
    return words[i][1];
}

/* Draws what is wanted of what there is. */
static int draw_all(const struct wr_call *call, const struct subject *subjects, size_t count)
{
    struct wr_picture picture;
    int status = WR_EXIT_PASSES;
    size_t drawn = 0;
    for (size_t p = 0; status == WR_EXIT_PASSES && wr_picture_at(p, &picture); p++) {
        const bool wanted = is_wanted(call, picture.name), there = has_picture(subjects, count, &picture);
        if (wanted && there) {
            status = draw(call, subjects, count, picture.name);
            drawn++;
        } else if (wanted && call->picture_count > 0) {
            wr_say_wrong("there is no picture \"%s\" of %s: it is of %s", picture.name,
                         count > 1 ? "these together" : call->operand, what_it_is_of(picture.of));
            return WR_EXIT_WRONG;
        }
    }
    if (drawn > 0)
        return status;
    wr_say_wrong("there is nothing to draw of %s", count > 1 ? "these together" : call->operand);
    return WR_EXIT_WRONG;
}

/* The call -------------------------------------------------------------------------------------------------------- */

static bool names_are_known(const struct wr_call *call)
{
    struct wr_picture picture;
    const char *names[16] = {NULL};
    size_t count = 0;
    while (count < sizeof names / sizeof *names && wr_picture_at(count, &picture))
        names[count++] = picture.name;
    for (size_t i = 0; i < call->picture_count; i++) {
        size_t n = 0;
        while (n < count && strcmp(names[n], call->pictures[i]) != 0)
            n++;
        if (n < count)
            continue;
        const char *near = wr_nearest(call->pictures[i], names, count);
        if (near != NULL)
            wr_say_wrong("there is no picture \"%s\"; did you mean %s?", call->pictures[i], near);
        else
            wr_say_wrong("there is no picture \"%s\"; \"washrota help plot\" lists them", call->pictures[i]);
        return false;
    }
    return true;
}

/* A folder that was misspelt is no scenario without a place for its pictures. */
static bool operands_are_there(const struct wr_call *call)
{
    struct stat status;
    for (size_t i = 0; i < call->operand_count; i++)
        if (strcmp(call->operands[i], "-") != 0 && stat(call->operands[i], &status) != 0) {
            wr_say_wrong("no run folder and no scenario is at %s: %s", call->operands[i], strerror(errno));
            return false;
        }
    return true;
}

/* Pictures of a run folder go into it; those of anything else need a place, unless they are text. */
static bool has_place(const struct wr_call *call)
{
    const bool is_text = call->term != NULL && strcmp(call->term, "dumb") == 0;
    if (is_text && call->out != NULL) {
        wr_say_wrong("--term dumb draws on standard output and takes no --out");
        return false;
    }
    if (is_text || call->out != NULL || (call->operand_count == 1 && wr_path_is_folder(call->operand)))
        return true;
    wr_say_wrong("where shall the pictures go? Give --out DIR, or --term dumb for text on standard output");
    return false;
}

/* Makes the folder asked for where it is not there. */
static bool make_folder(const char *folder)
{
    if (folder == NULL || mkdir(folder, 0777) == 0 || (errno == EEXIST && wr_path_is_folder(folder)))
        return true;
    wr_say_wrong("cannot make the folder %s: %s", folder, strerror(errno));
    return false;
}

static int carry_out(const struct wr_call *call)
{
    if (call->json) {
        wr_say_wrong("plot draws, and has no document to write");
        return WR_EXIT_WRONG;
    }
    if (!names_are_known(call) || !operands_are_there(call) || !has_place(call))
        return WR_EXIT_WRONG;
    struct subject *subjects = calloc(call->operand_count, sizeof *subjects);
    int status = subjects != NULL ? WR_EXIT_PASSES : WR_EXIT_FAULT;
    for (size_t i = 0; i < call->operand_count && status == WR_EXIT_PASSES; i++)
        status = ask_again(&subjects[i], call, call->operands[i]);
    if (status == WR_EXIT_PASSES && !make_folder(call->out))
        status = WR_EXIT_WRONG;
    if (status == WR_EXIT_PASSES)
        status = draw_all(call, subjects, call->operand_count);
    for (size_t i = 0; subjects != NULL && i < call->operand_count; i++) {
        wr_answer_close(subjects[i].answer);
        wr_scenario_close(subjects[i].scenario);
    }
    free(subjects);
    return status;
}

static void list_pictures(void)
{
    struct wr_picture picture;
    fputs("pictures\n", stdout);
    for (size_t p = 0; wr_picture_at(p, &picture); p++)
        printf("  %-13s %s: %s\n", picture.name, picture.of, picture.meaning);
    fputc('\n', stdout);
}

const struct wr_command wr_command_plot = {
    .name = "plot",
    .operand = "DIR...",
    .needs_operand = true,
    .takes_many = true,
    .summary = "pictures of a run folder, by gnuplot",
    .help = "Runs what a run folder keeps again and draws it, by gnuplot, into that folder or that of --out.\n"
            "Of a run folder of run, and of a scenario in place of one, it draws what stocks and filters did\n"
            "over some days around the longest wait, or from --from until --until; of one of firm, the\n"
            "capacities; of one of bed, or with --picture bed of a scenario, the beds over temperature; of one\n"
            "of compare, margin --map or sweep, which are worked again as they were asked, the picture that\n"
            "they left there. Several of firm are drawn side by side and want --out. --term dumb draws as\n"
            "text on standard output.\n"
            "\n"
            "It passes (0) when the pictures are drawn, and never fails (1): without gnuplot it ends with 3.\n",
    .help_more = list_pictures,
    .carry_out = carry_out};
