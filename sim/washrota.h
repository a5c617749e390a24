/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_WASHROTA_H
#define WR_WASHROTA_H

/* libwashrota: a scenario of a filter plant in, answers out.
 *
 *     wr_library_open();
 *     struct wr_scenario *scenario = wr_scenario_open("plant.json", NULL, 0);
 *     struct wr_answer *answer = wr_scenario_run(scenario);
 *     char *text = wr_answer_text(answer, WR_SHOW_AS_WRITTEN);
 *     puts(text);
 *     free(text);
 *     wr_answer_close(answer);
 *     wr_scenario_close(scenario);
 *     wr_library_close();
 *
 * A bad scenario is no fault: opening it gives a scenario that is not good, and every answer about it holds the
 * complaints. Results are named by the keys of the JSON document and are in SI, the unit in the key. Texts are UTF-8.
 *
 * Call from one thread only; studies use others of their own. Where memory for texts runs out the library says so on
 * standard error and aborts.
 *
 * A planning and teaching aid, not a design: verify on the plant; local codes, the permitting authority and a licensed
 * engineer decide. */

#include <signal.h>
#include <stdbool.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Library ------------------------------------------------------------------------------------------------------- */

/* The version, "1.2.3". */
const char *wr_version(void);

/* Prepares the library; call once before anything else. Turns GSL's error handler off for the whole process: numbers
 * that fail become a status in an answer, not an end of the program. */
void wr_library_open(void);

/* Gives back what the library remembers; call when no scenario and no answer is left. */
void wr_library_close(void);

/* Scenarios ----------------------------------------------------------------------------------------------------- */

struct wr_scenario;

/* Reads the scenario in the file at `path`, then applies `count` settings, each "POINTER=VALUE" with a JSON pointer
 * (RFC 6901) and a value that is JSON where it parses as JSON, else text: "/horizon=365 d". Never NULL but when memory
 * runs out; a file that cannot be read is a complaint. */
struct wr_scenario *wr_scenario_open(const char *path, const char *const *settings, size_t count);

/* The same from `length` bytes of `text`, called `name` in complaints. */
struct wr_scenario *wr_scenario_open_text(const char *name, const char *text, size_t length,
                                          const char *const *settings, size_t count);

/* True when there is no complaint about the scenario. */
bool wr_scenario_is_good(const struct wr_scenario *scenario);

/* All complaints, one a line, with file, line and pointer; empty for a good scenario. The caller frees it. */
char *wr_scenario_complaints(const struct wr_scenario *scenario);

/* The title as its author wrote it; NULL for a bad scenario. */
const char *wr_scenario_title(const struct wr_scenario *scenario);

/* The scenario as JSON text with its settings applied: reading it again gives the same answers. NULL when it was not
 * JSON. */
const char *wr_scenario_text(const struct wr_scenario *scenario);

/* SHA-256 of that text, 64 hexadecimal digits; NULL when it was not JSON. */
const char *wr_scenario_sha256(const struct wr_scenario *scenario);

/* How the many runs of a study are worked. Answers do not depend on it. */
struct wr_work {
    size_t threads; /* 0: as many as there are cores */
    const volatile sig_atomic_t
        *stop; /* once it is not 0 nothing further is begun, and what is done is kept; or NULL */
    void (*tell)(void *context, size_t done, size_t expected); /* from the calling thread, now and then; or NULL */
    void *context;
};

/* Sets how studies of this scenario are worked from now on; otherwise by the calling thread alone. */
void wr_scenario_set_work(struct wr_scenario *scenario, const struct wr_work *work);

/* Frees a scenario; NULL is allowed. Its answers must be closed before. */
void wr_scenario_close(struct wr_scenario *scenario);

/* Answers ------------------------------------------------------------------------------------------------------- */

struct wr_answer;

/* How an answer came out. The numbers are the exit statuses of the program. */
enum wr_outcome {
    WR_OUTCOME_PASSES,       /* answered, and it passes */
    WR_OUTCOME_FAILS,        /* answered, and it fails */
    WR_OUTCOME_BAD_SCENARIO, /* not answered: there are complaints, a model cannot be worked out from it, or it has not
                                what was asked about */
    WR_OUTCOME_FAULT         /* not answered, or not to the end: the program or the machine failed */
};

/* In which units a text is written. */
enum wr_show { WR_SHOW_AS_WRITTEN /* what the scenario asks for */, WR_SHOW_US, WR_SHOW_SI };

/* Whether the scenario can be run, with what follows from its figures, and the plant beside published guidance, which
 * makes no scenario invalid. Passes when there is nothing to complain of; never fails. Answers borrow their scenario.
 * NULL only when memory runs out; so with the next two. */
struct wr_answer *wr_scenario_check(const struct wr_scenario *scenario);

/* Has the texts of checks list every row of guidance from now on, not only those that are not met. */
void wr_scenario_want_whole_review(struct wr_scenario *scenario);

/* Runs the plant from start to horizon: does wash demand ever exceed supply, and does washing keep pace all the same?
 * Passes when no failing finding occurred. */
struct wr_answer *wr_scenario_run(const struct wr_scenario *scenario);

/* Lets runs of a good scenario end at a moment, s since the start, as if that were its horizon: those of
 * wr_scenario_run, of pictures and of stories. False, and nothing is changed, for a moment that is not after the start
 * and at the latest the horizon. Call before asking. */
bool wr_scenario_end_at(struct wr_scenario *scenario, double seconds);

/* As wr_scenario_run, in parts: goes on from the run saved in the file `from`, or NULL for the start, and with `keeps`
 * stays such that wr_answer_save_state can save it where it ends. A run gone on with answers, for all of it, what one
 * that was never cut does, byte for byte. A file that is not of this scenario with its settings, of this version and of
 * this build for this kind of machine, that is damaged or stands past the end of the run, is refused: a bad scenario,
 * with a message. Its checksum is no protection against forgery: take saved runs only from whom you would take a
 * program. */
struct wr_answer *wr_scenario_run_on(const struct wr_scenario *scenario, const char *from, bool keeps);

/* Searches the firm capacity with the largest filter out of service, and what limits it. Passes when it is at least
 * the scenario's maximum day. */
struct wr_answer *wr_scenario_firm(const struct wr_scenario *scenario);

/* Whether the plant's backwash lifts the beds of its filters and keeps their media in, over the temperatures of its
 * wash water, and which rate expands them by a wanted share. Passes when every bed of which all is known is lifted
 * throughout, stays below its freeboard where one is given and loses no media. NULL only when memory runs out. */
struct wr_answer *wr_scenario_bed(const struct wr_scenario *scenario);

/* The expansion that wr_scenario_bed asks of a bed, as a scenario would write a share: "40 %", which it is without this
 * call. False, and nothing is changed, for anything but a share above zero and up to 300 %. */
bool wr_scenario_want_expansion(struct wr_scenario *scenario, const char *share);

/* Studies --------------------------------------------------------------------------------------------------------- */

/* By which run a plant is judged. */
enum wr_judged {
    WR_JUDGED_FIRM,   /* its maximum day every day of a year, the largest filter out: what a firm capacity asks */
    WR_JUDGED_ALL_IN, /* the same with every unit in service */
    WR_JUDGED_RUN     /* the scenario's own run, from its start to its horizon */
};

/* How bad may numbers of a scenario get? */
struct wr_margin_wish {
    const char *const *of; /* pointers to numbers, each alone or as "POINTER=LEAST to MOST", how far to look */
    size_t count;
    enum wr_judged judged;
    bool map; /* of two numbers: which of them together pass */
};

/* Moves each number up and down to where the verdict changes, and ranks them by how near that is. Passes when the
 * scenario as it stands does. A wish that cannot be met is a bad scenario, with a message. So with the next studies:
 * one that was stopped answers for what is done, and its document has "interrupted": true. */
struct wr_answer *wr_scenario_margin(const struct wr_scenario *scenario, const struct wr_margin_wish *wish);

/* A question asked at many points. */
struct wr_sweep_wish {
    const char *const *axes; /* "POINTER=VALUES": "1 mg/L to 5 mg/L in 9", or a list parted by commas */
    size_t axis_count;
    bool in_step;            /* axes move together, and are not crossed */
    bool of_firm;            /* the firm capacity is asked at each point, else a run */
    const char *const *show; /* figures by their JSON pointers in the answer; the usual ones for none. They must live as
                                long as the answer */
    size_t show_count;
    size_t skip; /* points at the start to be left out: what an interrupted sweep has done */
};

/* Asks at each point. Passes when every point is allowed, answered and passes. */
struct wr_answer *wr_scenario_sweep(const struct wr_scenario *scenario, const struct wr_sweep_wish *wish);

/* A search for the rota that leaves most room. */
struct wr_rota_wish {
    const char *const *may; /* bounds: "POINTER=VALUES" as the axes of a sweep, a range without "in N" being searched
                               between its ends; or every= and first= of a dated rota, filters evenly spread */
    size_t may_count;
    size_t tries;  /* at most, up to 10,000; 0: the usual number */
    bool for_firm; /* the filter firm capacity comes before all else */
};

/* Searches within the bounds, from several starts. Passes when the best that was found fails from none and keeps
 * pace. */
struct wr_answer *wr_scenario_rota(const struct wr_scenario *scenario, const struct wr_rota_wish *wish);

/* Filters for a wanted flow. */
struct wr_size_wish {
    const char *flow;    /* with one filter out, on every day, net of washes: "0.5 Mgal/d", "90 m3/h" */
    size_t fewest, most; /* filters that are listed, from 2 to 24 */
    bool simulate;       /* the firm capacity of each row is searched, else all is by steady averages */
};

/* The smallest size for each number of filters that gives the flow. Passes when a row does. */
struct wr_answer *wr_scenario_size(const struct wr_scenario *scenario, const struct wr_size_wish *wish);

/* The points of a sweep as CSV (RFC 4180), in SI. NULL for any other answer. The caller frees it. */
char *wr_answer_table(const struct wr_answer *answer);

/* Reads how fast demand grows, a share a year such as "2 %", above 0 and at most 50 %; false, with what is wrong
 * written to `fault`, at most `size` bytes, for anything else. */
bool wr_growth_read(const char *text, double *growth, char *fault, size_t size);

/* When a maximum day that grows by so much a year, above 0, compound, reaches 75, 90 and 100 % of what the plant can
 * promise. Passes as wr_scenario_firm does. */
struct wr_answer *wr_scenario_growth(const struct wr_scenario *scenario, double growth);

/* A scenario and what it is called in a comparison: its file, or a variant. */
struct wr_named_scenario {
    const char *name;
    const struct wr_scenario *scenario;
};

enum { WR_COMPARED_SCENARIOS = 6 };

/* Sets 1 to WR_COMPARED_SCENARIOS scenarios beside the first: firm capacities, a run of each, and what was changed. All
 * run under the start, horizon, seed and demand of the first, unless `as_written`. Where `growth` of demand a year is
 * above 0, it says how many years each buys. Passes when none is worse than the first: no firm capacity lower by 1 %
 * of the filter firm capacity, no failing finding that the first has not. Worked as is set for the first. The answer is
 * about the first, or about one that is not good; names and scenarios are borrowed. */
struct wr_answer *wr_scenarios_compare(const struct wr_named_scenario *named, size_t count, bool as_written,
                                       double growth);

/* Reading answers ------------------------------------------------------------------------------------------------- */

/* How it came out. */
enum wr_outcome wr_answer_outcome(const struct wr_answer *answer);

/* What went wrong, for a reader; "" for an answer that passes or fails. */
const char *wr_answer_message(const struct wr_answer *answer);

/* The report, lines of at most 100 columns. The caller frees it. */
char *wr_answer_text(const struct wr_answer *answer, enum wr_show show);

/* The answer as one JSON document. The caller frees it. */
char *wr_answer_json(const struct wr_answer *answer);

/* One number, word or flag of that document by its JSON pointer: "/answers/wash_balance/longest_wait_s",
 * "/limiting/limit", "/answers/passes". False, and `*value` untouched, where there is none or it is of another kind.
 * Words belong to the answer. */
bool wr_answer_number(const struct wr_answer *answer, const char *pointer, double *value);

/* The same for a word. */
bool wr_answer_word(const struct wr_answer *answer, const char *pointer, const char **value);

/* The same for a flag. */
bool wr_answer_flag(const struct wr_answer *answer, const char *pointer, bool *value);

/* How saving came out. */
enum wr_saved {
    WR_SAVED,
    WR_SAVE_REFUSED, /* the folder holds other things, or there is no answer to save: see the fault */
    WR_SAVE_FAILED   /* the system would not: see the fault */
};

/* Writes a run folder: scenario, how it was answered, answer, report in the units of `show`, tables as CSV. It is
 * written beside `folder` under another name and takes its place when whole, so a folder of that name is never in
 * parts. A folder that is there must be empty or an older run folder and nothing else. What is wrong is written to
 * `fault`, at most `size` bytes. */
enum wr_saved wr_answer_save(const struct wr_answer *answer, const char *folder, enum wr_show show, char *fault,
                             size_t size);

/* Saves a run that wr_scenario_run_on kept, as it stood at its end, in a file. It is written beside the file under
 * another name and takes its place when whole. A file that is there is replaced only where it is a saved run or empty.
 * What is wrong is written to `fault`, at most `size` bytes. */
enum wr_saved wr_answer_save_state(const struct wr_answer *answer, const char *file, char *fault, size_t size);

/* Frees an answer; NULL is allowed. */
void wr_answer_close(struct wr_answer *answer);

/* Run folders ---------------------------------------------------------------------------------------------------- */

/* What a run folder says of itself. */
struct wr_about {
    char command[16];  /* that wrote it: "run" */
    char version[32];  /* of the program that wrote it */
    enum wr_show show; /* units of its report */
};

/* Opens the scenario that a run folder keeps, so that what was asked can be asked again. NULL for a folder that is
 * none, or whose scenario is not the one it was written with; what is wrong is written to `fault`, at most `size`
 * bytes. */
struct wr_scenario *wr_folder_open(const char *folder, struct wr_about *about, char *fault, size_t size);

/* Asks the scenario of a folder that compare, margin or sweep wrote what they were asked, worked as is set for it. The
 * folder's further scenarios belong to the answer. NULL, with what is wrong in `fault`, for a folder of another command
 * or one that does not say what was asked. */
struct wr_answer *wr_folder_ask(const char *folder, const struct wr_scenario *scenario, char *fault, size_t size);

/* Pictures ------------------------------------------------------------------------------------------------------- */

/* A picture that can be drawn. */
struct wr_picture {
    const char *name;    /* of its script, plots/NAME.gp, and of its file */
    const char *meaning; /* what it shows, for a list */
    const char *of;      /* command of whose answer: "run" stands for one of wr_scenario_watch */
    bool takes_several;  /* answers, side by side */
    bool with_folder;    /* is drawn by its command itself, into its run folder */
};

/* The picture of a place in the list; false, and `*picture` untouched, after the last. */
bool wr_picture_at(size_t place, struct wr_picture *picture);

/* Reads a moment of a good scenario's run, in the words of the report: "day 3 at 18:20", "day 3" for the midnight with
 * which it begins, or "3". Sets `*seconds` since the start and returns true; false on anything else. */
bool wr_scenario_moment(const struct wr_scenario *scenario, const char *text, double *seconds);

/* As wr_scenario_run, and keeps what pictures show of a stretch of the run, s since its start. The whole of what does
 * not lie within the run is left out; where nothing is left, or from is NaN, the stretch is the one that shows most:
 * some days around the longest wait. */
struct wr_answer *wr_scenario_watch(const struct wr_scenario *scenario, double from, double until);

/* True when a picture can be drawn of an answer: it is of the right kind, and the plant has what the picture shows. */
bool wr_answer_has_picture(const struct wr_answer *answer, const char *name);

/* What gnuplot must be told before it loads the script of a picture: variables and data. Wants one answer, or `count`
 * where the picture takes several, each of which must have it. The caller frees it. */
char *wr_answers_picture(const struct wr_answer *const *answers, size_t count, const char *name, enum wr_show show);

/* Stories -------------------------------------------------------------------------------------------------------- */

/* What is asked about a run: nothing for the worst of each kind, or one of these; a filter and a day go together. */
struct wr_topic {
    const char *filter;  /* its name; NULL for none */
    size_t wash;         /* of that filter, counted from 1; 0 for none */
    size_t day;          /* of the run, counted from 1; 0 for none */
    const char *finding; /* key of a kind, as in the document; NULL for none */
};

/* Runs the plant and tells how what was asked about came to pass. Passes when there is something to tell, whether the
 * run passes or not. A topic that is not of the run gives an answer of WR_OUTCOME_BAD_SCENARIO whose message says so.
 * The topic's words are not kept. */
struct wr_answer *wr_scenario_explain(const struct wr_scenario *scenario, const struct wr_topic *topic);

#ifdef __cplusplus
}
#endif

#endif
