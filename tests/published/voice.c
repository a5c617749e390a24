/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/published/voice.h"

#include "tests/support/check.h"

#include <string.h>
#include <unistd.h>

/* Packages of Debian are seen by Debian's Python alone. */
#define PYTHON "/usr/bin/python3"

FILE *wr_voice_begin(const char *script)
{
    char line[200], command[200];
    if (access(PYTHON, X_OK) != 0) {
        print_message("skipped: no %s to run %s\n", PYTHON, script);
        return NULL;
    }
    snprintf(command, sizeof command, PYTHON " %s", script);
    FILE *voice = popen(command, "r");
    check_true(voice != NULL, "the script starts");
    check_true(fgets(line, sizeof line, voice) != NULL, "the script says who speaks");
    if (strcmp(line, "missing\n") == 0) {
        print_message("skipped: %s finds its library not installed\n", script);
        wr_voice_end(voice);
        return NULL;
    }
    print_message("%s speaks for %s", script, line);
    return voice;
}

void wr_voice_end(FILE *voice)
{
    check_count(pclose(voice), 0, "exit status of the script");
}
