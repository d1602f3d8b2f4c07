/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_option_kinds.c - the ready-made kinds of options, and which options go together.
 */
#include "check.h"

#include "cli/options.h"

#include <string.h>

typedef struct sample {
    tu_command_line common;
    const char *path, *name, *out, *svg, *file[2];
    size_t files;
    bool bare;
    tu_unit unit;
    tu_axis axis;
    uint64_t many;
    int few, slot;
    double places_mm[3], length_mm, feed_mm_per_min, seconds;
    tu_quantity size;
    tu_target target;
    tu_error error;
    bool help;
} sample;

#define AT(member) TU_AT(sample, member)

static const tu_option kinds[] = {
    {"axis", "x|y|z", .take = tu_option_take_choice, AT(axis)},
    {"many", "N", .take = tu_option_take_whole, AT(many), .whole = {1, 5000000000}},
    {"few", "N", .take = tu_option_take_whole, AT(few), .whole = {2, 20}},
    {"at", "X,Y,Z", .take = tu_option_take_places, AT(places_mm)},
    {"span", "LOW:HIGH", .take = tu_option_take_places, AT(places_mm)},
    {"length", "Q", .take = tu_option_take_length, AT(length_mm), .sign = TU_ABOVE_ZERO},
    {"spare", "Q", .take = tu_option_take_length, AT(length_mm), .sign = TU_NOT_BELOW_ZERO},
    {"feed", "F", .take = tu_option_take_feed, AT(feed_mm_per_min), .sign = TU_ABOVE_ZERO},
    {"depth", "Q", .take = tu_option_take_size, AT(size), .use = TU_USE_TOUCH_DEPTH},
    {"for", "TIME", .take = tu_option_take_seconds, AT(seconds)},
    {"slot", "G54..G59.3", .take = tu_option_take_slot, AT(slot)},
    {"target", "TARGET", .take = tu_option_take_target, AT(target)},
    {"series", "NAME", .take = tu_option_take_series, AT(name),
     .needs = {"path", "names touches in a log"}},
    {"path", "FILE", .take = tu_option_take_input, AT(path)},
    {"bare", .take = tu_option_take_flag, AT(bare), .excludes = {"few slot", "means none"}},
    {"out", "FILE", .take = tu_option_take_output, AT(out)},
    {"svg", "FILE", .take = tu_option_take_output, AT(svg)},
    {"unit", "mm|in", .early = true, .take = tu_option_take_unit, AT(unit)},
};

static const tu_syntax of_kinds = {
    .options = kinds,
    .count = sizeof kinds / sizeof *kinds,
    .operand = {.argument = "FILE",
                .take = tu_option_take_input,
                TU_LIST(sample, file, files, 2),
                .help = "logs"},
};

/* Reads the words of line, parted by single spaces. */
static tu_status parse(sample *on, const char *line)
{
    static char words[200];
    char *argv[20] = {"trial"};
    int argc = 1;
    memset(on, 0, sizeof *on);
    snprintf(words, sizeof words, "%s", line);
    for (char *word = strtok(words, " "); word; word = strtok(NULL, " "))
        argv[argc++] = word;
    argv[argc] = NULL;
    return tu_options_parse(&of_kinds, argc, argv, on, &on->help, &on->error);
}

static void take_kind(sample *on, const char *line)
{
    check_status(parse(on, line), TU_OK, &on->error);
}

static void refuse_kind(const char *line, tu_status status, const char *where, const char *part)
{
    sample on;
    check_status(parse(&on, line), status, NULL);
    assert_string_equal(on.error.where, where);
    check_contains(on.error.message, part);
}

static void a_choice_is_a_word_of_its_argument_in_either_case(void **state)
{
    (void)state;
    sample on;
    take_kind(&on, "--axis y");
    assert_int_equal(on.axis, TU_AXIS_Y);
    take_kind(&on, "--axis Z");
    assert_int_equal(on.axis, TU_AXIS_Z);
    refuse_kind("--axis w", TU_USAGE, "--axis", "must be x, y or z, found \"w\"");
    refuse_kind("--axis x|y", TU_USAGE, "--axis", "must be x, y or z");
    refuse_kind("--axis=", TU_USAGE, "--axis", "must be x, y or z");
}

static void a_whole_number_lies_in_its_range(void **state)
{
    (void)state;
    sample on;
    take_kind(&on, "--many 5000000000 --few 20");
    assert_true(on.many == 5000000000u);
    assert_int_equal(on.few, 20);
    refuse_kind("--few 21", TU_USAGE, "--few", "a whole number from 2 to 20, found \"21\"");
    refuse_kind("--few 1", TU_USAGE, "--few", "found \"1\"");
    refuse_kind("--few 2.5", TU_USAGE, "--few", "found \"2.5\"");
    refuse_kind("--few -3", TU_USAGE, "--few", "found \"-3\"");
    refuse_kind("--few=", TU_USAGE, "--few", "found \"\"");
}

static void places_are_parted_as_their_form_is(void **state)
{
    (void)state;
    sample on;
    take_kind(&on, "--at 1,2,3 --unit in");
    check_close(on.places_mm[2], 76.2, 1e-12, "Z, mm: 3 x 25.4");
    take_kind(&on, "--span 2mm:8");
    check_close(on.places_mm[1], 8, 0, "HIGH, mm: as typed");
    refuse_kind("--span 2,8", TU_DATA_SYNTAX, "--span", "must have the form LOW:HIGH");
    refuse_kind("--at 1,2:3", TU_DATA_SYNTAX, "--at", "must have the form X,Y,Z");
    refuse_kind("--at 1,2", TU_DATA_SYNTAX, "--at", "must have the form X,Y,Z");
}

static void lengths_sizes_and_feeds_are_read_in_the_unit_and_judged(void **state)
{
    (void)state;
    sample on;
    take_kind(&on, "--length 2 --feed 10 --depth 0.25 --unit in");
    check_close(on.length_mm, 50.8, 1e-12, "length, mm: 2 x 25.4");
    check_close(on.feed_mm_per_min, 254, 1e-12, "feed, mm/min: 10 x 25.4");
    check_close(on.size.value_mm, 6.35, 1e-12, "depth, mm: 0.25 x 25.4");
    assert_string_equal(on.common.typed.bare, "2");
    assert_true(on.common.typed.stated);
    take_kind(&on, "--spare 0");
    refuse_kind("--length 0", TU_DATA_RANGE, "--length", "must be above 0, found \"0\"");
    refuse_kind("--spare -1", TU_DATA_RANGE, "--spare", "must not be below 0, found \"-1\"");
    refuse_kind("--length 1+-0.1", TU_DATA_RANGE, "--length", "takes no tolerance");
    refuse_kind("--feed 0", TU_DATA_RANGE, "--feed", "must be above 0");
    refuse_kind("--feed 3mm/min", TU_DATA_SYNTAX, "--feed", "give the feed bare");
    refuse_kind("--depth 0.1", TU_DATA_RANGE, "--depth", "the unit is probably wrong");
}

static void times_slots_targets_and_names_are_read(void **state)
{
    (void)state;
    sample on;
    take_kind(&on, "--for 1.5h --slot g59.3 --target left --path a --series bed");
    check_close(on.seconds, 5400, 0, "time, s: 1.5 x 3600");
    assert_int_equal(on.slot, 9);
    assert_int_equal(on.target.outward[TU_AXIS_X], -1);
    assert_string_equal(on.name, "bed");
    refuse_kind("--for 10", TU_USAGE, "--for", "a time with its unit");
    refuse_kind("--slot G60", TU_USAGE, "{slot}", "no work offset");
    refuse_kind("--target lift", TU_USAGE, "--target", "did you mean \"left\"?");
    refuse_kind("--path a --series a\tb", TU_USAGE, "--series", "without control characters");
}

static void a_list_holds_so_many(void **state)
{
    (void)state;
    sample on;
    take_kind(&on, "a b");
    assert_int_equal(on.files, 2);
    assert_string_equal(on.file[1], "b");
    refuse_kind("a b c", TU_USAGE, "FILE", "given more than 2 times");
}

static void an_option_says_what_it_needs_and_excludes(void **state)
{
    (void)state;
    sample on;
    refuse_kind("--series bed", TU_USAGE, "--series", "names touches in a log: give --path too");
    refuse_kind("--bare --slot G54", TU_USAGE, "--bare", "means none; leave out --slot or --bare");
    refuse_kind("--few 2 --bare", TU_USAGE, "--bare", "leave out --few or --bare");
    take_kind(&on, "--bare");
    assert_true(tu_option_is_given(&of_kinds, &on.common, "bare"));
    assert_false(tu_option_is_given(&of_kinds, &on.common, "few"));
}

static void no_file_is_read_and_written(void **state)
{
    (void)state;
    sample on;
    take_kind(&on, "- --path a --out b --svg c");
    refuse_kind("--out -", TU_USAGE, "--out", "needs a file's name");
    refuse_kind("a --out a", TU_USAGE, "--out", "a is read as FILE, and would be replaced");
    refuse_kind("--out a --path a", TU_USAGE, "--out", "a is read as --path");
    refuse_kind("--out /proc/self/exe --path /proc/self/../self/exe", TU_USAGE, "--out",
                "is read as --path"); /* one file under two names */
    refuse_kind("--out a --svg a", TU_USAGE, "--out", "a is the file of --svg");
    refuse_kind("--path - -", TU_USAGE, "--path", "standard input can't be both this and FILE");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_choice_is_a_word_of_its_argument_in_either_case),
        cmocka_unit_test(a_whole_number_lies_in_its_range),
        cmocka_unit_test(places_are_parted_as_their_form_is),
        cmocka_unit_test(lengths_sizes_and_feeds_are_read_in_the_unit_and_judged),
        cmocka_unit_test(times_slots_targets_and_names_are_read),
        cmocka_unit_test(a_list_holds_so_many),
        cmocka_unit_test(an_option_says_what_it_needs_and_excludes),
        cmocka_unit_test(no_file_is_read_and_written),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
