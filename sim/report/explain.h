/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_REPORT_EXPLAIN_H
#define WR_SIM_REPORT_EXPLAIN_H

/* How something in a run came to pass, told from its spans and its diary.
 *
 * Every reason here is a limit that the plant told, in the words of the one table of limits; figures beside it are what
 * the diary noted. Nothing is judged anew. */

#include "sim/record/diary.h"
#include "sim/report/report.h"

/* What is told from. */
struct wr_teller {
    const struct wr_run *run;
    const struct wr_diary *diary;
    enum wr_units units; /* of texts */
};

enum wr_story_kind { WR_STORY_WASH, WR_STORY_FILTER, WR_STORY_DAY, WR_STORY_FINDING };

struct wr_story {
    enum wr_story_kind kind;
    size_t place;                     /* in the diary's list of washes or days; or the filter */
    const struct wr_finding *finding; /* of a finding's story */
    const char *chosen;               /* why this one, where nothing was asked about; else NULL */
};

enum { WR_STORIES = 16 };

struct wr_stories {
    struct wr_story items[WR_STORIES];
    size_t count;
};

/* What is asked about a run, as in struct wr_topic of the public header. */
struct wr_asked {
    const char *filter;
    size_t wash, day; /* from 1; 0 for none */
    const char *finding;
};

/* Finds what is asked about. False, with what is wrong in `fault`, where the run has nothing of it. */
bool wr_stories_choose(struct wr_stories *stories, const struct wr_teller *teller, const struct wr_asked *asked,
                       char *fault, size_t size);

/* The stories as a document, and as text. */
struct cJSON *wr_report_explain_document(const struct wr_subject *subject, const struct wr_teller *teller,
                                         const struct wr_stories *stories);
void wr_report_explain_page(struct wr_page *page, const struct wr_subject *subject, const struct wr_teller *teller,
                            const struct wr_stories *stories);

/* Parts of the above ---------------------------------------------------------------------------------------------- */

/* A stretch of a wait and its first reason. */
struct wr_reason {
    enum wr_limit limit;
    double from, to; /* s */
};

/* The stretches of a wash's wait, in order, from the spans that the plant told; those of the same reason that meet are
 * one. Frees nothing: `*reasons` is the caller's to free. Returns their number. */
size_t wr_explain_reasons(const struct wr_teller *teller, const struct wr_diary_wash *wash, struct wr_reason **reasons);

/* Time, s, in which a limit held within a wash's wait, first of all or not. */
double wr_explain_held(const struct wr_teller *teller, const struct wr_diary_wash *wash, enum wr_limit limit);

/* End of a wash's wait, s: its start, or the end of the run. */
double wr_explain_wait_end(const struct wr_teller *teller, const struct wr_diary_wash *wash);

/* What a tank did for a while; stretches alike but for their flows are one. */
struct wr_tank_part {
    size_t tank;
    enum wr_tank_doing doing;
    int outlet;
    wr_limit_set held;
    double from, to;
    double level;               /* m3, at from */
    double least, most;         /* m3/s out of it */
    double raw_least, raw_most; /* m3/s */
    double total;               /* s: less than from `from` to `to` where parts that do not meet were put together */
};

/* What a tank did from one time to another, in order. The caller frees `*parts`. Returns their number. */
size_t wr_explain_tank(const struct wr_teller *teller, size_t tank, double from, double to,
                       struct wr_tank_part **parts);

/* A sentence on each tank over a time. */
void wr_explain_say_tanks(struct wr_page *sentences, const struct wr_teller *teller, double from, double to);

/* Sentences on tanks that stood longer than their time because their water was not clear enough, or were drawn off in
 * an emergency, between two times; nothing where there were none. */
void wr_explain_say_turns(struct wr_page *sentences, const struct wr_teller *teller, double from, double to);

/* A sentence on the sludge drawn between two times; nothing where there was none. */
void wr_explain_say_sludge(struct wr_page *sentences, const struct wr_teller *teller, double from, double to);

/* The decant under way at a time that took sludge with it; false where there was none. */
bool wr_explain_say_decant(struct wr_page *sentences, const struct wr_teller *teller, double time);

/* Why a wash waited, as paragraphs; nothing where it did not. */
void wr_explain_put_wait(struct wr_page *page, const struct wr_teller *teller, const struct wr_diary_wash *wash);

/* A wash's water, m3, summed over its steps. */
struct wr_wash_sums {
    double wash_water, backwash, into_filter, to_holding, to_sewer; /* backwash goes to the spent wash */
    double feed, feed_to_sewer, drained, down; /* the feed that goes to no sewer goes to the spent wash */
    double spent;                              /* all that goes there */
};
struct wr_wash_sums wr_explain_sums(const struct wr_diary *diary, size_t wash);

/* One story. */
void wr_explain_put_wash(struct wr_page *page, const struct wr_teller *teller, size_t wash);
void wr_explain_put_filter(struct wr_page *page, const struct wr_teller *teller, size_t filter);
void wr_explain_put_day(struct wr_page *page, const struct wr_teller *teller, size_t day);
void wr_explain_put_finding(struct wr_page *page, const struct wr_teller *teller, const struct wr_finding *finding);

/* One sentence: a wash, when it was called and how long it waited. */
void wr_explain_say_in_short(struct wr_page *sentences, const struct wr_teller *teller,
                             const struct wr_diary_wash *wash);

/* Where a wash's spent water went: a tank's name, "the sewer", or "the ground, since no tank had room". */
const char *wr_explain_tank_name(const struct wr_plant *plant, size_t tank);

/* What a step is called, and its key. */
const char *wr_explain_step_words(enum wr_step_kind kind);
const char *wr_explain_step_key(enum wr_step_kind kind);

/* Key of what a tank does. */
const char *wr_explain_doing_key(enum wr_tank_doing doing);

/* "06:40" on the same calendar day as `other`, else "day 3 at 06:40"; both s since the start. */
struct wr_phrase;
void wr_explain_say_clock(struct wr_page *sentences, const struct wr_teller *teller, double seconds, double other);

#endif
