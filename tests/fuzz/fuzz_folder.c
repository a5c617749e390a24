/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Run folders: an input is the text of about.json, a form feed and the text of scenario.json. "@HASH@" in the first
 * stands for the hash of the second, which no chance would find. */
#include "tests/fuzz/fuzz.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const char MARK[] = "@HASH@";

/* A folder of this program's own, for as long as it runs. */
static char folder[64], about_path[96], scenario_path[96];

static void remove_folder(void)
{
    remove(about_path);
    remove(scenario_path);
    remove(folder);
}

static void make_folder(void)
{
    const char *place = access("/dev/shm", W_OK) == 0 ? "/dev/shm" : ".";
    snprintf(folder, sizeof folder, "%s/fuzz-folder-XXXXXX", place);
    if (mkdtemp(folder) == NULL)
        fuzz_fail("no folder can be made", folder);
    snprintf(about_path, sizeof about_path, "%s/about.json", folder);
    snprintf(scenario_path, sizeof scenario_path, "%s/scenario.json", folder);
    atexit(remove_folder);
}

static void write_file(const char *path, const char *head, size_t head_size, const char *middle, const char *tail,
                       size_t tail_size)
{
    FILE *file = fopen(path, "wb");
    if (file == NULL)
        fuzz_fail("no file can be written", path);
    fwrite(head, 1, head_size, file);
    fputs(middle, file);
    fwrite(tail, 1, tail_size, file);
    fclose(file);
}

/* Where the mark stands in `size` bytes; NULL where it does not. */
static const char *find_mark(const char *text, size_t size)
{
    const size_t length = sizeof MARK - 1;
    for (size_t i = 0; i + length <= size; i++) {
        if (memcmp(text + i, MARK, length) == 0)
            return text + i;
    }
    return NULL;
}

static void write_about(const char *text, size_t size, const struct wr_scenario *scenario)
{
    const char *mark = find_mark(text, size);
    const char *hash = wr_scenario_sha256(scenario);
    const size_t head = mark ? (size_t)(mark - text) : size;
    const size_t tail = mark ? head + sizeof MARK - 1 : size;
    write_file(about_path, text, head, mark && hash ? hash : "", text + tail, size - tail);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    const char *text = (const char *)data;
    const char *end = size ? memchr(text, '\f', size) : NULL;
    const size_t about_size = end ? (size_t)(end - text) : size;
    const size_t scenario_size = end ? size - about_size - 1 : 0;
    const char *scenario_text = end ? end + 1 : "";
    struct wr_about about;
    char fault[256] = "";

    if (folder[0] == '\0')
        make_folder();
    fuzz_count_input();
    struct wr_scenario *scenario = wr_scenario_open_text("hostile.json", scenario_text, scenario_size, NULL, 0);
    write_about(text, about_size, scenario);
    write_file(scenario_path, scenario_text, scenario_size, "", "", 0);
    wr_scenario_close(scenario);

    scenario = wr_folder_open(folder, &about, fault, sizeof fault);
    if (scenario == NULL && fault[0] == '\0')
        fuzz_fail("a folder refused without a word", folder);
    if (scenario != NULL)
        fuzz_examine(scenario);
    return 0;
}
