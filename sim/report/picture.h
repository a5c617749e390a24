/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_REPORT_PICTURE_H
#define WR_SIM_REPORT_PICTURE_H

/* Pictures: what gnuplot is told before it reads the script of a picture.
 *
 * A picture's text sets variables and named blocks of data and draws nothing: how it looks stands in plots/NAME.gp.
 * What each script is given is listed at its head. Numbers are in the units shown, times in days of the calendar: day 1
 * begins at 1, its noon is 1.5. Text of a scenario is quoted so that gnuplot reads it as text whatever it holds. */

#include "sim/record/series.h"
#include "sim/report/page.h"
#include "sim/report/report.h"

struct wr_comparison;

/* What a picture is drawn from. */
struct wr_drawn {
    const struct wr_definition *definition;
    const struct wr_run *run;       /* with its series, or */
    const struct wr_series *series; /* */
    const struct wr_firm *firm;
    const struct wr_margins *margins; /* of a map */
    const struct wr_wash_beds *beds;
    const struct wr_sweep *sweep;
    const struct wr_comparison *comparison;
    enum wr_units units;
};

struct wr_picture_row {
    const char *name; /* of its file and its script */
    const char *meaning;
    const char *of;                                /* the command whose answer it is drawn from */
    bool takes_several;                            /* firm capacities side by side */
    bool with_folder;                              /* drawn by its command itself, into its run folder */
    bool (*applies)(const struct wr_drawn *drawn); /* NULL: always */
    void (*put)(struct wr_page *page, const struct wr_drawn *drawn, size_t count);
};

/* The picture of a place in the table, NULL after the last. */
const struct wr_picture_row *wr_picture_row(size_t place);

/* The picture of a name; NULL when there is none. */
const struct wr_picture_row *wr_picture_named(const char *name);

/* True for the file of a picture: its name with ".png" or ".svg". */
bool wr_picture_is_file(const char *file);

/* The stretch of a run that shows most, s: some days around the longest wait for a resource, else around the longest
 * wait at all, else from the start; the whole of a short run. Begins and ends at a midnight or with the run. */
void wr_picture_stretch(const struct wr_run *run, double *from, double *until);

/* Parts of the text ------------------------------------------------------------------------------------------------ */

/* A variable of text, of a number (NaN where it is absent), and lists of texts and numbers. */
void wr_picture_text(struct wr_page *page, const char *name, const char *text);
void wr_picture_number(struct wr_page *page, const char *name, double value);

/* A field of a block of data: text in quotes, or a number and a blank. */
void wr_picture_field(struct wr_page *page, const char *text);
void wr_picture_value(struct wr_page *page, double value);

/* What every picture is told: plant, caution, units, and of a run the stretch shown. */
void wr_picture_head(struct wr_page *page, const struct wr_drawn *drawn);

/* Days of the calendar at a time, s since the start. */
double wr_picture_day(const struct wr_definition *definition, double time);

/* A row of the table each. */
void wr_picture_put_filters(struct wr_page *page, const struct wr_drawn *drawn, size_t count);
void wr_picture_put_differential(struct wr_page *page, const struct wr_drawn *drawn, size_t count);
void wr_picture_put_storage(struct wr_page *page, const struct wr_drawn *drawn, size_t count);
void wr_picture_put_tanks(struct wr_page *page, const struct wr_drawn *drawn, size_t count);
void wr_picture_put_recycle(struct wr_page *page, const struct wr_drawn *drawn, size_t count);
void wr_picture_put_ladder(struct wr_page *page, const struct wr_drawn *drawn, size_t count);
void wr_picture_put_compare(struct wr_page *page, const struct wr_drawn *drawn, size_t count);
void wr_picture_put_capacities(struct wr_page *page, const struct wr_drawn *drawn, size_t count);
void wr_picture_put_bed(struct wr_page *page, const struct wr_drawn *drawn, size_t count);
void wr_picture_put_map(struct wr_page *page, const struct wr_drawn *drawn, size_t count);
void wr_picture_put_sweep(struct wr_page *page, const struct wr_drawn *drawn, size_t count);

/* True for a sweep that has numbers to draw. */
bool wr_picture_of_sweep(const struct wr_sweep *sweep);

#endif
