/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_options.c - command lines from tables: what is taken, what is refused and how it is said.
 */
#include "check.h"

#include "cli/options.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { TAKEN_SIZE = 400 };

/* A request that notes the order of what it was given. */
typedef struct sample {
    tu_command_line common;
    const char *path;
    const char *plate;
    bool json;
    tu_unit unit;
    double angle_rad;
    char taken[TAKEN_SIZE];
    tu_error error;
    bool help;
} sample;

static tu_status take_note(const tu_met *met, tu_error *error)
{
    sample *on = met->request;
    size_t used = strlen(on->taken);
    if (strcmp(met->argument, "bad") == 0)
        return tu_fail(error, TU_DATA_SYNTAX, NULL, "not a number");
    snprintf(on->taken + used, TAKEN_SIZE - used, "%s=%s/%s ",
             met->option->name ? met->option->name : met->option->argument, met->argument,
             tu_unit_name(on->unit));
    return TU_OK;
}

#define AT(member) TU_AT(sample, member)

static const tu_option table[] = {
    {"path", "FILE", .take = tu_option_take_text, AT(path), .help = "where to look"},
    {"plate", "NAME", .take = tu_option_take_text, AT(plate), .help = "which plate"},
    {"x", "VALUE", .repeatable = true, .take = take_note, .help = "a position"},
    {"unit", "mm|in", .early = true, .take = tu_option_take_unit, AT(unit),
     .help = "the unit of bare numbers, wherever it stands on the command line, and a text that is "
             "long enough to need a second line"},
    {"angle", "ANGLE", .take = tu_option_take_angle, AT(angle_rad), .help = "an angle"},
    {"json", .take = tu_option_take_flag, AT(json), .help = "write JSON"},
};

static const tu_syntax one_operand = {
    .options = table,
    .count = sizeof table / sizeof *table,
    .operand = {.argument = "TARGET", .take = take_note, .help = "where the zero is wanted"},
    .operand_required = true,
};

static const tu_syntax files = {
    .options = table,
    .count = sizeof table / sizeof *table,
    .operand = {.argument = "FILE", .take = take_note, .repeatable = true, .help = "logs"},
};

static const tu_syntax no_operand = {.options = table, .count = sizeof table / sizeof *table};

/* Reads the words of line, parted by single spaces. */
static tu_status parse(sample *on, const tu_syntax *syntax, const char *line)
{
    static char words[600];
    char *argv[40] = {"zero"};
    int argc = 1;
    memset(on, 0, sizeof *on);
    snprintf(words, sizeof words, "%s", line);
    for (char *word = strtok(words, " "); word; word = strtok(NULL, " "))
        argv[argc++] = word;
    argv[argc] = NULL;
    return tu_options_parse(syntax, argc, argv, on, &on->help, &on->error);
}

static void check_refused(const char *line, const char *where, const char *part)
{
    sample on;
    check_status(parse(&on, &one_operand, line), TU_USAGE, &on.error);
    assert_int_equal(on.error.status, TU_USAGE);
    assert_string_equal(on.error.where, where);
    check_contains(on.error.message, part);
    assert_string_equal(on.taken, ""); /* nothing was taken from a line with a wrong word in it */
}

static void values_land_in_the_request(void **state)
{
    (void)state;
    sample on;
    check_status(parse(&on, &one_operand, "left --path a.json --json --angle 90 --x 1 --x 2"),
                 TU_OK, &on.error);
    assert_string_equal(on.path, "a.json");
    assert_null(on.plate);
    assert_true(on.json);
    check_close(on.angle_rad, M_PI / 2, 1e-15, "angle, rad: 90 degrees");
    assert_string_equal(on.taken, "TARGET=left/mm x=1/mm x=2/mm ");
    assert_false(on.help);
}

static void a_value_may_follow_after_an_equals_sign(void **state)
{
    (void)state;
    sample on;
    check_status(parse(&on, &one_operand, "--path=--odd --x=-3 left"), TU_OK, &on.error);
    assert_string_equal(on.path, "--odd");
    assert_string_equal(on.taken, "x=-3/mm TARGET=left/mm ");
}

static void a_negative_number_may_follow_its_option(void **state)
{
    (void)state;
    sample on;
    check_status(parse(&on, &one_operand, "left --x -40.12 --x -.5"), TU_OK, &on.error);
    assert_string_equal(on.taken, "TARGET=left/mm x=-40.12/mm x=-.5/mm ");
}

static void an_early_option_counts_wherever_it_stands(void **state)
{
    (void)state;
    sample on;
    check_status(parse(&on, &one_operand, "left --x 4 --unit in"), TU_OK, &on.error);
    assert_string_equal(on.taken, "TARGET=left/in x=4/in ");
}

static void a_single_dash_is_an_operand(void **state)
{
    (void)state;
    sample on;
    check_status(parse(&on, &files, "a.jsonl - b.jsonl"), TU_OK, &on.error);
    assert_string_equal(on.taken, "FILE=a.jsonl/mm FILE=-/mm FILE=b.jsonl/mm ");
}

static void after_two_dashes_everything_is_an_operand(void **state)
{
    (void)state;
    sample on;
    check_status(parse(&on, &files, "--json -- --x -h"), TU_OK, &on.error);
    assert_true(on.json);
    assert_string_equal(on.taken, "FILE=--x/mm FILE=-h/mm ");
}

static void an_operand_that_may_be_missing_may_be_missing(void **state)
{
    (void)state;
    sample on;
    check_status(parse(&on, &files, "--json"), TU_OK, &on.error);
    check_status(parse(&on, &no_operand, "--json"), TU_OK, &on.error);
}

static void help_stops_the_reading(void **state)
{
    (void)state;
    sample on;
    check_status(parse(&on, &one_operand, "--x 1 --help --nonsense"), TU_OK, &on.error);
    assert_true(on.help);
    assert_string_equal(on.taken, "");
}

static void an_unknown_option_names_the_nearest(void **state)
{
    (void)state;
    check_refused("left --palte offcut", "--palte", "unknown option; did you mean --plate?");
    check_refused("left --jsn", "--jsn", "did you mean --json?");
    check_refused("left --hepl", "--hepl", "did you mean --help?");
    check_refused("left --palte=offcut", "--palte", "did you mean --plate?");
}

static void an_unknown_option_with_nothing_near_is_just_unknown(void **state)
{
    (void)state;
    sample on;
    check_status(parse(&on, &one_operand, "left --spindle"), TU_USAGE, NULL);
    assert_string_equal(on.error.message, "unknown option");
}

static void abbreviations_are_not_taken(void **state)
{
    (void)state;
    check_refused("left --js", "--js", "did you mean --json?");
    check_refused("left --pla offcut", "--pla", "did you mean --plate?");
    check_refused("left --p offcut", "--p", "unknown option"); /* two begin so: neither is named */
    sample on;
    parse(&on, &one_operand, "left --p offcut");
    check_lacks(on.error.message, "did you mean");
}

static void a_missing_value_is_named(void **state)
{
    (void)state;
    check_refused("left --path", "--path", "needs a value: --path FILE");
    check_refused("left --x", "--x", "needs a value: --x VALUE");
}

static void the_next_option_is_not_taken_for_a_value(void **state)
{
    (void)state;
    check_refused("left --path --json", "--path", "needs a value: --path FILE");
}

static void a_flag_takes_no_value(void **state)
{
    (void)state;
    check_refused("left --json=yes", "--json", "takes no value; leave out \"=yes\"");
    check_refused("left --help=x", "--help", "takes no value");
}

static void an_option_given_twice_is_refused(void **state)
{
    (void)state;
    check_refused("left --plate a --plate b", "--plate", "given twice; keep one of them");
    check_refused("left --plate a --plate a", "--plate", "given twice");
    check_refused("left --json --json", "--json", "given twice");
}

static void a_second_operand_is_refused(void **state)
{
    (void)state;
    check_refused("left right", "right", "one word too many");
    check_refused("left -- right", "right", "one word too many");
    sample on;
    check_status(parse(&on, &no_operand, "left"), TU_USAGE, NULL);
    check_contains(on.error.message, "takes options only");
}

static void a_missing_operand_says_what_it_is(void **state)
{
    (void)state;
    check_refused("--json", "TARGET", "missing: where the zero is wanted");
}

static void a_number_without_its_option_is_told_apart_from_an_option(void **state)
{
    (void)state;
    check_refused("left -40.12", "-40.12", "a number without its option");
    check_refused("left -.5", "-.5", "a number without its option");
    check_refused("left -h", "-h", "did you mean --help?");
    check_refused("left -q", "-q", "options have two dashes");
}

static void a_refused_value_names_its_option(void **state)
{
    (void)state;
    sample on;
    check_status(parse(&on, &one_operand, "left --x bad"), TU_DATA_SYNTAX, NULL);
    assert_string_equal(on.error.where, "--x");
    assert_string_equal(on.error.message, "not a number");
    check_status(parse(&on, &one_operand, "bad"), TU_DATA_SYNTAX, NULL);
    assert_string_equal(on.error.where, "TARGET");
}

static void ready_made_takes_refuse_what_they_cannot_read(void **state)
{
    (void)state;
    sample on;
    check_status(parse(&on, &one_operand, "left --unit cm"), TU_USAGE, NULL);
    check_contains(on.error.message, "must be mm or in, found \"cm\"");
    check_status(parse(&on, &one_operand, "left --angle steep"), TU_DATA_SYNTAX, NULL);
    assert_string_equal(on.error.where, "--angle");
    check_status(parse(&on, &one_operand, "left --path="), TU_USAGE, NULL);
    check_contains(on.error.message, "needs a FILE");
}

static void the_error_may_be_left_out(void **state)
{
    (void)state;
    char *argv[] = {"zero", "left", "--unit", "cm", NULL};
    sample on = {0};
    assert_int_equal(tu_options_parse(&one_operand, 4, argv, &on, &on.help, NULL), TU_USAGE);
}

static void the_usage_shows_the_operand(void **state)
{
    (void)state;
    char text[80];
    assert_int_equal(tu_options_format_usage(text, sizeof text, &one_operand), 16);
    assert_string_equal(text, "TARGET [options]");
    tu_options_format_usage(text, sizeof text, &files);
    assert_string_equal(text, "[FILE...] [options]");
    tu_options_format_usage(text, sizeof text, &no_operand);
    assert_string_equal(text, "[options]");
    assert_int_equal(tu_options_format_usage(text, 5, &one_operand), 0);
}

static void the_help_shows_every_option_within_80_columns(void **state)
{
    (void)state;
    char *text = NULL;
    size_t length = 0;
    FILE *out = open_memstream(&text, &length);
    assert_non_null(out);
    tu_options_write_help(out, &one_operand);
    fclose(out);
    for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
        char name[40];
        snprintf(name, sizeof name, "  --%s", table[i].name);
        check_contains(text, name);
    }
    check_contains(text, "  --help                    this help\n");
    check_contains(text, "  --path FILE               where to look\n");
    check_contains(text, "\n                            command line, and a text that is long");
    for (char *line = strtok(text, "\n"); line; line = strtok(NULL, "\n"))
        assert_true(strlen(line) <= 80);
    free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(values_land_in_the_request),
        cmocka_unit_test(a_value_may_follow_after_an_equals_sign),
        cmocka_unit_test(a_negative_number_may_follow_its_option),
        cmocka_unit_test(an_early_option_counts_wherever_it_stands),
        cmocka_unit_test(a_single_dash_is_an_operand),
        cmocka_unit_test(after_two_dashes_everything_is_an_operand),
        cmocka_unit_test(an_operand_that_may_be_missing_may_be_missing),
        cmocka_unit_test(help_stops_the_reading),
        cmocka_unit_test(an_unknown_option_names_the_nearest),
        cmocka_unit_test(an_unknown_option_with_nothing_near_is_just_unknown),
        cmocka_unit_test(abbreviations_are_not_taken),
        cmocka_unit_test(a_missing_value_is_named),
        cmocka_unit_test(the_next_option_is_not_taken_for_a_value),
        cmocka_unit_test(a_flag_takes_no_value),
        cmocka_unit_test(an_option_given_twice_is_refused),
        cmocka_unit_test(a_second_operand_is_refused),
        cmocka_unit_test(a_missing_operand_says_what_it_is),
        cmocka_unit_test(a_number_without_its_option_is_told_apart_from_an_option),
        cmocka_unit_test(a_refused_value_names_its_option),
        cmocka_unit_test(ready_made_takes_refuse_what_they_cannot_read),
        cmocka_unit_test(the_error_may_be_left_out),
        cmocka_unit_test(the_usage_shows_the_operand),
        cmocka_unit_test(the_help_shows_every_option_within_80_columns),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
