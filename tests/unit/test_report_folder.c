/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Run folders are whole or not there, and take the place of nothing but an older run. */

#include "sim/report/folder.h"
#include "tests/support/check.h"

#include <dirent.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

static const char about[] = "{\"program\": {\"name\": \"washrota\"}}";

static void put(FILE *out, const void *what)
{
    fputs(what, out);
}

/* As on a full disk. */
static void put_on_full_disk(FILE *out, const void *what)
{
    if (freopen("/dev/full", "w", out) != NULL)
        fputs(what, out);
}

/* As if the machine stopped in the middle. */
static void put_and_die(FILE *out, const void *what)
{
    fputs(what, out);
    fflush(out);
    raise(SIGKILL);
}

/* Files and folders in a folder. */
static int entries(const char *folder)
{
    int count = 0;
    DIR *directory = opendir(folder);
    for (const struct dirent *e; directory != NULL && (e = readdir(directory)) != NULL;)
        count += strcmp(e->d_name, ".") != 0 && strcmp(e->d_name, "..") != 0;
    if (directory != NULL)
        closedir(directory);
    return count;
}

static bool has_content(const char *path, const char *expected)
{
    char text[256];
    FILE *file = fopen(path, "r");
    const size_t length = file != NULL ? fread(text, 1, sizeof text - 1, file) : 0;
    if (file != NULL)
        fclose(file);
    text[length] = '\0';
    return strcmp(text, expected) == 0;
}

static void make_file(const char *path, const char *content)
{
    FILE *file = fopen(path, "w");
    check_true(file != NULL, path);
    fputs(content, file);
    fclose(file);
}

/* Writes a folder whose report comes by `write`, its about.json last, as the program does. */
static enum wr_folder_status write_report(const char *folder, void (*write)(FILE *, const void *), const char *report,
                                          char fault[256])
{
    const struct wr_folder_file files[] = {{"report.txt", write, report}, {"about.json", put, about}};
    fault[0] = '\0';
    return wr_folder_write(folder, files, 2, fault, 256);
}

/* Tests work in an empty folder of their own. */
static int enter(void **state)
{
    char pattern[64];
    snprintf(pattern, sizeof pattern, "%s/wr-folder-XXXXXX", P_tmpdir);
    *state = getcwd(NULL, 0);
    return mkdtemp(pattern) == NULL || chdir(pattern) != 0;
}

static int leave(void **state)
{
    char *here = getcwd(NULL, 0);
    const int gone = chdir(*state);
    char command[256];
    snprintf(command, sizeof command, "rm -r -- '%s'", here);
    const int removed = system(command);
    free(here);
    free(*state);
    return gone != 0 || removed != 0;
}

static void a_folder_is_made_with_its_parents(void **state)
{
    (void)state;
    char fault[256];
    check_count(write_report("a/b/run", put, "one", fault), WR_FOLDER_WRITTEN, fault);
    check_true(has_content("a/b/run/report.txt", "one"), "its report");
    check_true(has_content("a/b/run/about.json", about), "its about");
    check_count(entries("a/b"), 1, "nothing beside it");
    struct stat status;
    const mode_t mask = umask(022);
    check_count(write_report("open", put, "one", fault), WR_FOLDER_WRITTEN, fault);
    umask(mask);
    check_true(stat("open", &status) == 0 && (status.st_mode & 0777) == 0755, "open to others as the mask lets it be");
}

static void an_older_run_is_replaced(void **state)
{
    (void)state;
    char fault[256];
    check_count(write_report("run", put, "one", fault), WR_FOLDER_WRITTEN, fault);
    make_file("run/washes.csv", "old");
    check_count(write_report("run/", put, "two", fault), WR_FOLDER_WRITTEN, fault);
    check_true(has_content("run/report.txt", "two"), "the new report");
    check_count(entries("run"), 2, "no file of the older run");
    check_count(entries("."), 1, "nothing beside it");
}

static void other_things_are_left_alone(void **state)
{
    (void)state;
    char fault[256];
    mkdir("mine", 0777);
    make_file("mine/report.txt", "mine");
    check_count(write_report("mine", put, "one", fault), WR_FOLDER_REFUSED, "a folder without about.json");
    check_holds(fault, "mine", "the fault names the folder");
    make_file("mine/about.json", "{\"program\": {\"name\": \"other\"}}");
    check_count(write_report("mine", put, "one", fault), WR_FOLDER_REFUSED, "another program's folder");
    make_file("mine/about.json", "not JSON");
    check_count(write_report("mine", put, "one", fault), WR_FOLDER_REFUSED, "a folder that cannot be read");
    make_file("mine/about.json", about);
    make_file("mine/notes.txt", "notes");
    check_count(write_report("mine", put, "one", fault), WR_FOLDER_REFUSED, "an older run with a note in it");
    check_holds(fault, "notes.txt", "the fault names the note");
    check_count(write_report("mine/notes.txt", put, "one", fault), WR_FOLDER_REFUSED, "a file");
    check_count(write_report("", put, "one", fault), WR_FOLDER_REFUSED, "no name");
    check_true(has_content("mine/report.txt", "mine") && has_content("mine/notes.txt", "notes"), "all is as it was");
    check_count(entries("mine"), 3, "nothing more in it");
    check_count(entries("."), 1, "nothing beside it");
}

static void a_fault_leaves_the_older_run(void **state)
{
    (void)state;
    char fault[256];
    check_count(write_report("run", put, "one", fault), WR_FOLDER_WRITTEN, fault);
    const struct wr_folder_file files[] = {{"report.txt", put, "two"}, {"no/such.csv", put, "two"}};
    check_count(wr_folder_write("run", files, 2, fault, sizeof fault), WR_FOLDER_FAILED, "a file that cannot be made");
    check_holds(fault, "cannot write", "the fault says so");
    if (access("/dev/full", W_OK) == 0)
        check_count(write_report("run", put_on_full_disk, "two", fault), WR_FOLDER_FAILED, "a full disk");
    check_true(has_content("run/report.txt", "one"), "the older run is whole");
    check_count(entries("run"), 2, "and as it was");
    check_count(entries("."), 1, "nothing beside it");
}

static void an_interruption_leaves_no_folder(void **state)
{
    (void)state;
    char fault[256];
    fflush(NULL);
    const pid_t child = fork();
    if (child == 0) {
        write_report("run", put_and_die, "one", fault);
        _exit(0);
    }
    int ended = 0;
    waitpid(child, &ended, 0);
    check_true(WIFSIGNALED(ended), "the child was stopped in the middle");
    check_true(access("run", F_OK) != 0, "no folder of that name");
    check_count(entries("."), 1, "what was begun stands under another name");
    check_count(write_report("run", put, "two", fault), WR_FOLDER_WRITTEN, "the next one is not hindered");
    check_true(has_content("run/report.txt", "two"), "and is whole");
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test_setup_teardown(a_folder_is_made_with_its_parents, enter, leave),
                                       cmocka_unit_test_setup_teardown(an_older_run_is_replaced, enter, leave),
                                       cmocka_unit_test_setup_teardown(other_things_are_left_alone, enter, leave),
                                       cmocka_unit_test_setup_teardown(a_fault_leaves_the_older_run, enter, leave),
                                       cmocka_unit_test_setup_teardown(an_interruption_leaves_no_folder, enter, leave)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
