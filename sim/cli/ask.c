/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/cli/cli.h"
#include "sim/cli/gnuplot.h"

#include <errno.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* A scenario is at most 16 MB; one byte more is enough for the reader to say so. */
static const size_t MOST_BYTES = 16U * 1024U * 1024U + 1;

static struct wr_scenario *open_input(const struct wr_call *call)
{
    char *text = malloc(MOST_BYTES);
    if (text == NULL)
        return NULL;
    const size_t length = fread(text, 1, MOST_BYTES, stdin);
    struct wr_scenario *scenario =
        wr_scenario_open_text("standard input", text, length, call->settings, call->setting_count);
    free(text);
    return scenario;
}

struct wr_scenario *wr_call_open(const struct wr_call *call, const char *path)
{
    return strcmp(path, "-") == 0 ? open_input(call) : wr_scenario_open(path, call->settings, call->setting_count);
}

void wr_say_outcome(const char *file, const struct wr_scenario *scenario, const struct wr_answer *answer)
{
    const enum wr_outcome outcome = wr_answer_outcome(answer);
    if (outcome == WR_OUTCOME_FAULT)
        wr_say_wrong("a fault of the program or the machine: %s", wr_answer_message(answer));
    if (outcome != WR_OUTCOME_BAD_SCENARIO)
        return;
    if (wr_scenario_is_good(scenario)) {
        wr_say_wrong("%s: %s", file, wr_answer_message(answer));
        return;
    }
    char *complaints = wr_scenario_complaints(scenario);
    fputs(complaints, stderr);
    free(complaints);
}

int wr_print_text(const char *text)
{
    if (fputs(text, stdout) != EOF && fflush(stdout) == 0)
        return WR_EXIT_PASSES;
    const int why = errno;
    clearerr(stdout);
    if (why == EPIPE)
        return WR_EXIT_PASSES;
    wr_say_wrong("cannot write to standard output: %s", strerror(why));
    return WR_EXIT_FAULT;
}

static int print(const struct wr_call *call, const struct wr_answer *answer)
{
    char *text = NULL;
    if (call->json)
        text = wr_answer_json(answer);
    else if (call->csv)
        text = wr_answer_table(answer);
    else if (!call->quiet && wr_answer_outcome(answer) != WR_OUTCOME_BAD_SCENARIO)
        text = wr_answer_text(answer, call->show);
    const int status = text != NULL ? wr_print_text(text) : WR_EXIT_PASSES;
    free(text);
    return status;
}

/* Tells what was saved where somebody sits there; returns the exit status that saving asks for. */
static int tell_saved(const struct wr_call *call, enum wr_saved saved, const char *what, const char *place,
                      const char *fault)
{
    switch (saved) {
    case WR_SAVED:
        if (!call->quiet && isatty(STDERR_FILENO))
            fprintf(stderr, "%s: %s\n", what, place);
        return WR_EXIT_PASSES;
    case WR_SAVE_REFUSED:
        wr_say_wrong("%s", fault);
        return WR_EXIT_WRONG;
    default:
        wr_say_wrong("%s", fault);
        return WR_EXIT_FAULT;
    }
}

static int save(const struct wr_call *call, const struct wr_answer *answer)
{
    char fault[512] = "";
    const enum wr_saved saved = wr_answer_save(answer, call->out, call->show, fault, sizeof fault);
    return tell_saved(call, saved, "Run folder", call->out, fault);
}

static int save_state(const struct wr_call *call, const struct wr_answer *answer)
{
    char fault[512] = "";
    const enum wr_saved saved = wr_answer_save_state(answer, call->save, fault, sizeof fault);
    return tell_saved(call, saved, "Saved run", call->save, fault);
}

static int worse(int status, int other)
{
    return status > other ? status : other;
}

bool wr_call_moment(const struct wr_scenario *scenario, const char *option, const char *text, double otherwise,
                    double *moment)
{
    *moment = otherwise;
    if (text == NULL || wr_scenario_moment(scenario, text, moment))
        return true;
    wr_say_wrong("%s is a moment such as \"day 3\" or \"day 3 at 18:20\", not \"%s\"", option, text);
    return false;
}

/* Lets the run end where a call wants it to; false for a moment that is none or not of the run, which is said. */
static bool ends_well(const struct wr_call *call, struct wr_scenario *scenario)
{
    double until;
    if (call->until == NULL || !wr_scenario_is_good(scenario))
        return true;
    if (!wr_call_moment(scenario, "--until", call->until, 0, &until))
        return false;
    if (wr_scenario_end_at(scenario, until))
        return true;
    wr_say_wrong("the run does not reach %s: --until is a moment after its start and at the latest its end",
                 call->until);
    return false;
}

/* True unless a call wants an expansion that is none, or an end that the run has not got. */
static bool wants_well(const struct wr_call *call, struct wr_scenario *scenario)
{
    if (!ends_well(call, scenario))
        return false;
    if (call->whole_review)
        wr_scenario_want_whole_review(scenario);
    if (call->expansion == NULL || wr_scenario_want_expansion(scenario, call->expansion))
        return true;
    wr_say_wrong("--expand is a share such as \"40 %%\", up to 300 %%, not \"%s\"", call->expansion);
    return false;
}

/* Draws the picture that a study has into its run folder. Without gnuplot, which is said, the folder stays without it.
 */
static void draw(const struct wr_call *call, const struct wr_answer *answer)
{
    struct wr_picture picture;
    char path[PATH_MAX];
    for (size_t p = 0; wr_picture_at(p, &picture); p++) {
        const size_t length = (size_t)snprintf(path, sizeof path, "%s/%s.png", call->out, picture.name);
        if (!picture.with_folder || !wr_answer_has_picture(answer, picture.name) || length >= sizeof path)
            continue;
        char *text = wr_answers_picture(&answer, 1, picture.name, call->show);
        (void)wr_gnuplot_file(&(struct wr_drawing){.text = text, .name = picture.name, .term = "png"}, path);
        free(text);
    }
}

int wr_call_hand_over(const struct wr_call *call, const struct wr_scenario *scenario, const struct wr_answer *answer)
{
    bool interrupted = false;
    if (answer == NULL) {
        wr_say_wrong("out of memory");
        return WR_EXIT_FAULT;
    }
    int status = (int)wr_answer_outcome(answer);
    if (call->out != NULL && status <= WR_EXIT_FAILS)
        status = worse(status, save(call, answer));
    if (call->out != NULL && status <= WR_EXIT_FAILS)
        draw(call, answer);
    if (call->save != NULL && (int)wr_answer_outcome(answer) <= WR_EXIT_FAILS)
        status = worse(status, save_state(call, answer));
    status = worse(status, print(call, answer));
    if (!call->json || status != WR_EXIT_WRONG) /* a document says what is wrong with a scenario */
        wr_say_outcome(call->operand, scenario, answer);
    if (wr_answer_flag(answer, "/interrupted", &interrupted) && interrupted) {
        wr_say_wrong("interrupted; what was done is kept");
        status = worse(status, WR_EXIT_FAULT);
    }
    return status;
}

/* How a call is answered: by a question alone, or with the wishes of the call. A study keeps what is done when it is
 * interrupted. */
struct asking {
    bool is_study;
    struct wr_answer *(*question)(const struct wr_scenario *scenario);
    struct wr_answer *(*with)(const struct wr_call *call, const struct wr_scenario *scenario);
};

static int answer_call(const struct wr_call *call, const struct asking *asking)
{
    struct wr_scenario *scenario = wr_call_open(call, call->operand);
    if (scenario != NULL && !wants_well(call, scenario)) {
        wr_scenario_close(scenario);
        return WR_EXIT_WRONG;
    }
    const struct wr_work work = wr_call_work(call, asking->is_study);
    struct wr_answer *answer = NULL;
    if (scenario != NULL) {
        wr_scenario_set_work(scenario, &work);
        answer = asking->with != NULL ? asking->with(call, scenario) : asking->question(scenario);
    }
    wr_call_end_work();
    const int status = wr_call_hand_over(call, scenario, answer);
    wr_answer_close(answer);
    wr_scenario_close(scenario);
    return status;
}

int wr_call_ask(const struct wr_call *call, struct wr_answer *(*ask)(const struct wr_scenario *scenario))
{
    return answer_call(call, &(struct asking){.question = ask});
}

int wr_call_ask_with(const struct wr_call *call,
                     struct wr_answer *(*ask)(const struct wr_call *call, const struct wr_scenario *scenario))
{
    return answer_call(call, &(struct asking){.with = ask});
}

int wr_call_study(const struct wr_call *call,
                  struct wr_answer *(*ask)(const struct wr_call *call, const struct wr_scenario *scenario))
{
    return answer_call(call, &(struct asking){.is_study = true, .with = ask});
}
