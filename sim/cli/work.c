/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/cli/cli.h"

#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

/* What a signal can reach is of the whole program. */
static volatile sig_atomic_t interrupted;

/* Seconds between two lines of progress. */
static const double PAUSE = 0.25;

/* Progress on the terminal. */
static struct {
    double began, told; /* s by a clock that never goes back; 0 before */
    size_t width;       /* of what stands there */
} progress;

static double seconds(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

/* Writes over what stands on the line. */
static void put_line(const char *text)
{
    const size_t width = strlen(text);
    fprintf(stderr, "\r%s%*s", text, (int)(progress.width > width ? progress.width - width : 0), "");
    fputc('\r', stderr);
    fflush(stderr);
    progress.width = width;
}

static void say_left(double left, char *text, size_t size)
{
    if (left < 90)
        snprintf(text, size, "about %.0f s left", left < 1 ? 1 : left);
    else if (left < 5400)
        snprintf(text, size, "about %.0f min left", left / 60);
    else
        snprintf(text, size, "about %.1f h left", left / 3600);
}

static void tell(void *context, size_t done, size_t expected)
{
    (void)context;
    const double now = seconds();
    if (now - progress.told < PAUSE || done == 0 || done > expected)
        return;
    char left[40], line[80];
    say_left((now - progress.began) * (double)(expected - done) / (double)done, left, sizeof left);
    snprintf(line, sizeof line, "%zu of %zu, %s", done, expected, left);
    put_line(line);
    progress.told = now;
}

static void interrupt(int number)
{
    (void)number;
    interrupted = 1;
}

struct wr_work wr_call_work(const struct wr_call *call, bool keeps_what_is_done)
{
    struct wr_work work = {.threads = call->threads};
    if (!call->quiet && isatty(STDERR_FILENO)) {
        progress.began = progress.told = seconds();
        work.tell = tell;
    }
    if (keeps_what_is_done) {
        struct sigaction action = {.sa_handler = interrupt, .sa_flags = SA_RESTART | (int)SA_RESETHAND};
        sigemptyset(&action.sa_mask);
        sigaction(SIGINT, &action, NULL);
        work.stop = &interrupted;
    }
    return work;
}

void wr_call_end_work(void)
{
    if (progress.width > 0)
        put_line("");
}
