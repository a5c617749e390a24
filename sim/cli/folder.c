/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/cli/cli.h"

#include <limits.h>
#include <string.h>
#include <sys/stat.h>

bool wr_path_is_folder(const char *path)
{
    struct stat status;
    return strcmp(path, "-") != 0 && stat(path, &status) == 0 && S_ISDIR(status.st_mode);
}

int wr_call_open_folder(const struct wr_call *call, const char *folder, const char *done, struct wr_scenario **scenario,
                        struct wr_about *about)
{
    char fault[PATH_MAX + 128];
    if (call->setting_count > 0) {
        wr_say_wrong("%s is a run folder, which is %s as it ran; --set goes with a scenario", folder, done);
        return WR_EXIT_WRONG;
    }
    *scenario = wr_folder_open(folder, about, fault, sizeof fault);
    if (*scenario == NULL) {
        wr_say_wrong("%s", fault);
        return WR_EXIT_WRONG;
    }
    if (strcmp(about->version, wr_version()) != 0)
        wr_say_wrong("%s was written by version %s; what is %s is how version %s runs it", folder, about->version, done,
                     wr_version());
    return WR_EXIT_PASSES;
}
