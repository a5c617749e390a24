/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_CLI_CLI_H
#define WR_SIM_CLI_CLI_H

/* The program: a thin user of the library. One file a command, each with a row for the table in commands.c. */

#include "sim/washrota.h"

#include <stdbool.h>
#include <stddef.h>

/* Exit statuses; those of answers are enum wr_outcome. */
enum { WR_EXIT_PASSES = 0, WR_EXIT_FAILS = 1, WR_EXIT_WRONG = 2, WR_EXIT_FAULT = 3 };

/* An option that belongs to some commands, whose names have blanks between. */
struct wr_owned_option {
    const char *option, *commands;
};

/* A call as it was written. */
struct wr_call {
    const char *command;   /* NULL when none was given */
    const char *operand;   /* the file, the template, or what help is wanted on; NULL when none was given */
    const char *place;     /* where a command that writes a file puts it; NULL when none was given */
    const char **operands; /* all of them, those two first; owned */
    size_t operand_count;
    const char **settings; /* of --set, owned */
    size_t setting_count;
    bool whole_review;     /* of check */
    const char *expansion; /* wanted of beds, as written; NULL where not given */
    const char *out;       /* folder; NULL for none */
    enum wr_show show;
    const char **pictures; /* of --picture, owned */
    size_t picture_count;
    const char *term, *from, *until; /* of pictures, the last of runs too; NULL where not given */
    const char *save, *resume;       /* files of a run in parts; NULL where not given */
    const char **variants;           /* of --variant, owned */
    size_t variant_count;
    const char *rate;        /* of growth; NULL where not given */
    const char *wanted_flow; /* of size; NULL where not given */
    size_t fewest, most;     /* filters that size lists; 0 where not given */
    bool simulate;
    bool as_written;
    struct wr_topic topic;   /* of a story */
    const char *wash_filter; /* begins with the name of the filter whose wash is asked about; NULL for none */
    size_t wash_filter_length;
    struct wr_owned_option *owned; /* options given that belong to some commands; owned */
    size_t owned_count;
    bool json, quiet, help, version;
    size_t threads; /* 0: as many as there are cores */
    /* Of studies: */
    const char **wishes; /* of --of, --axis or --may, owned */
    size_t wish_count;
    const char **shown; /* of --show, owned */
    size_t shown_count;
    bool in_step, of_firm, csv;
    size_t skip, tries;
    bool for_firm;
    enum wr_judged judged;
    bool map;
};

struct wr_command {
    const char *name;
    const char *operand;     /* as help shows it: "FILE" */
    bool needs_operand;      /* a scenario */
    bool takes_place;        /* a second operand */
    bool takes_many;         /* any number of operands */
    const char *summary;     /* a line of the list of commands */
    const char *help;        /* what it does and what passing means */
    void (*help_more)(void); /* writes what follows that to standard output; NULL for nothing */
    int (*carry_out)(const struct wr_call *call);
};

extern const struct wr_command wr_command_new, wr_command_check, wr_command_run, wr_command_firm, wr_command_compare,
    wr_command_growth, wr_command_size, wr_command_margin, wr_command_sweep, wr_command_rota, wr_command_bed,
    wr_command_plot, wr_command_explain, wr_command_help;

/* The command of a place in the list, NULL after the last. */
const struct wr_command *wr_command_at(size_t place);

/* The command of a name; NULL when there is none, and then the fault is said on standard error. */
const struct wr_command *wr_command_named(const char *name);

/* Reads the arguments; false when the call is wrong, and then the fault is said on standard error. wr_call_fini frees
 * what it holds either way. */
bool wr_call_read(struct wr_call *call, int count, char **arguments);
void wr_call_fini(struct wr_call *call);

/* True when a word is among words with blanks between. */
bool wr_is_among(const char *word, const char *words);

/* Writes to standard output the options of a command, those of all commands among them; with NULL these alone. */
void wr_call_list_options(const char *command);

/* Opens the scenario of a call, asks, saves and prints. Returns the exit status. */
int wr_call_ask(const struct wr_call *call, struct wr_answer *(*ask)(const struct wr_scenario *scenario));

/* The same for a study, which an interrupt from the keyboard ends with what is done; then the exit status is 3. A
 * run folder gets the picture that the study has. */
int wr_call_study(const struct wr_call *call,
                  struct wr_answer *(*ask)(const struct wr_call *call, const struct wr_scenario *scenario));

/* As wr_call_ask, for a question that wants more of a call than its scenario. */
int wr_call_ask_with(const struct wr_call *call,
                     struct wr_answer *(*ask)(const struct wr_call *call, const struct wr_scenario *scenario));

/* A moment of a call, or `otherwise` where none is given; false for one that is none, which is said. */
bool wr_call_moment(const struct wr_scenario *scenario, const char *option, const char *text, double otherwise,
                    double *moment);

/* Saves, draws and prints an answer, or NULL without memory, and says what went wrong. Returns the exit status. */
int wr_call_hand_over(const struct wr_call *call, const struct wr_scenario *scenario, const struct wr_answer *answer);

/* The growth of demand that a call gives, 0 for none; false for one that is wrong, which is said. */
bool wr_call_growth(const struct wr_call *call, double *growth);

/* Says on standard error what went wrong with a scenario or an answer about it, after the name of its file. */
void wr_say_outcome(const char *file, const struct wr_scenario *scenario, const struct wr_answer *answer);

/* Opens the scenario of a path, or of standard input for "-", with the settings of a call. NULL without memory. */
struct wr_scenario *wr_call_open(const struct wr_call *call, const char *path);

/* How the studies of a call are worked. Progress is told on standard error where that is a terminal; an interrupt from
 * the keyboard stops a study that keeps what is done, and only the next one ends the program. */
struct wr_work wr_call_work(const struct wr_call *call, bool keeps_what_is_done);

/* Wipes the progress off the terminal. */
void wr_call_end_work(void);

/* True for a folder. */
bool wr_path_is_folder(const char *path);

/* Opens the scenario of a run folder, which is `done` ("drawn") as it ran, and says where another version wrote it.
 * Returns an exit status; what is wrong is said. */
int wr_call_open_folder(const struct wr_call *call, const char *folder, const char *done, struct wr_scenario **scenario,
                        struct wr_about *about);

/* Writes a text to standard output. Returns the exit status that this asks for: a reader that has closed the pipe is
 * no fault. */
int wr_print_text(const char *text);

/* Says on standard error what is wrong with a call, after the program's name. */
void wr_say_wrong(const char *format, ...) __attribute__((format(printf, 1, 2)));

/* The one of `count` words nearest to a misspelt one; NULL when none is near. */
const char *wr_nearest(const char *word, const char *const *words, size_t count);

#endif
