/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Somebody's program that uses the installed library: the scenarios named, run. */

#include <washrota.h>

#include <stdio.h>
#include <stdlib.h>

int main(int argc, char **argv)
{
    int worst = WR_OUTCOME_PASSES;
    wr_library_open();
    for (int i = 1; i < argc; i++) {
        struct wr_scenario *scenario = wr_scenario_open(argv[i], NULL, 0);
        struct wr_answer *answer = wr_scenario_run(scenario);
        char *text = wr_answer_text(answer, WR_SHOW_AS_WRITTEN);
        const int outcome = (int)wr_answer_outcome(answer);
        worst = outcome > worst ? outcome : worst;
        printf("%s", text);
        free(text);
        wr_answer_close(answer);
        wr_scenario_close(scenario);
    }
    wr_library_close();
    return worst;
}
