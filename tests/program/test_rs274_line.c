/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_rs274_line.c - lines, line numbers, block delete, comments, messages, settings, whole files.
 *
 * Source: NISTIR 6556 (2000), 3.3 (form of a line), 3.3.1 (line number), 3.3.3 (parameter setting),
 * 3.3.4 (comments and messages), 3.3.5 (repeats), 3.3.6 (order), and its rules for files that
 * percent signs delimit. Clauses and examples from memory.
 */
#include "check.h"
#include "rs274_show.h"

#include "trueup/text.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define COUNT(rows) (sizeof(rows) / sizeof(rows)[0])

static void blanks_and_case_do_not_change_a_line(void **state)
{
    (void)state;
    static const rs274_accepted rows[] = {
        {"3.3", "g0x +0. 12 34y 7", "G0 X0.1234 Y7"}, /* the standard's own example */
        {"3.3", "g0 x+0.1234 y7", "G0 X0.1234 Y7"},   /* what it is equivalent to */
        {"3.3", "G0X1Y2Z3", "G0 X1 Y2 Z3"},
        {"3.3", "  \tG 3 8 . 2 \t Z - 1 0\t", "G38.2 Z-10"},
        {"3.3", "X1\t2", "X12"},
        {"3.3", "x s q r t [ 1 6 ]", "X4"},
        {"3.3", "X[2 * * 3]", "X8"},
        {"3.3", "X[1 0 m O d 4]", "X2"},
        {"3.3", "# 3 = 1 5", "#3=15"},
        {"3.3", " / n 1 0 m 5", "/ N10 M5"},
    };
    rs274_check_accepted(rows, COUNT(rows));
}

static void line_numbers_are_of_one_to_five_digits(void **state)
{
    (void)state;
    static const rs274_accepted accepted[] = {
        {"3.3.1", "N0", "N0"},
        {"3.3.1", "N10 M5", "N10 M5"},
        {"3.3.1", "N99999 M5", "N99999 M5"},
        {"3.3.1", "N00009", "N9"},
        {"3.3.1", "n1 2 3X4", "N123 X4"},
        {"3.3", "/N5 X1", "/ N5 X1"},
    };
    rs274_check_accepted(accepted, COUNT(accepted));
    static const rs274_rejected rejected[] = {
        {"3.3.1", "N000009", 1, TU_DATA_SYNTAX, "1 to 5 digits"}, /* the standard's own example */
        {"3.3.1", "N100000 M5", 1, TU_DATA_SYNTAX, "0 to 99999"},
        {"3.3.1", "N-1", 2, TU_DATA_SYNTAX, "found \"-\", expected the digits of the line number"},
        {"3.3.1", "N+1", 2, TU_DATA_SYNTAX, "expected the digits"},
        {"3.3.1", "N", 2, TU_DATA_SYNTAX, "the line ends here, expected the digits"},
        {"3.3.1", "N1.5 M5", 3, TU_DATA_SYNTAX, "found \".\", expected a word"},
        {"3.3.1", "N[5] M5", 2, TU_DATA_SYNTAX, "found \"[\", expected the digits"},
        {"3.3.1", "N#1 M5", 2, TU_DATA_SYNTAX, "found \"#\", expected the digits"},
        {"3.3.1", "(a) N5", 5, TU_DATA_SYNTAX, "a line number stands once and first"},
    };
    rs274_check_rejected(rejected, COUNT(rejected));
}

static void block_delete_is_a_slash_in_front(void **state)
{
    (void)state;
    static const rs274_accepted accepted[] = {
        {"3.3", "/G0 X1", "/ G0 X1"}, {"3.3", "/", "/"},           {"3.3", "\t/ M2", "/ M2"},
        {"3.3", "/(off)", "/ (off)"}, {"3.3", "/ #1=2", "/ #1=2"},
    };
    rs274_check_accepted(accepted, COUNT(accepted));
    static const rs274_rejected rejected[] = {
        {"3.3", "N5 / X1", 4, TU_DATA_SYNTAX, "found \"/\", expected a word"},
        {"3.3", "//X1", 2, TU_DATA_SYNTAX, "a slash stands first on its line"},
        {"3.3", "X1/2", 3, TU_DATA_SYNTAX, "a slash stands first on its line"},
        {"3.3", "/ G2 X1", 3, TU_DATA_SYNTAX, "G2 (arcs)"}, /* deleted blocks are checked too */
    };
    rs274_check_rejected(rejected, COUNT(rejected));
}

static void comments_and_messages_are_kept_as_they_are_written(void **state)
{
    (void)state;
    static const rs274_accepted accepted[] = {
        {"3.3.4", "G80 M5 (stop motion)", "G80 M5 (stop motion)"}, /* the standard's own example */
        {"3.3.4", "( Two  Words )", "( Two  Words )"},
        {"3.3.4", "()", ""},
        {"3.3.4", "(MSG,Turn an edge to the wall)", "MSG(Turn an edge to the wall)"},
        {"3.3.4", "(MSG, Turn)", "MSG( Turn)"},
        {"3.3.4", "( m S g , Turn)", "MSG( Turn)"},
        {"3.3.4", "(\tMs\tG,go)", "MSG(go)"},
        {"3.3.4", "(MSG,)", "MSG()"},
        {"3.3.4", "(MSG Turn)", "(MSG Turn)"},
        {"3.3.4", "(a MSG, Turn)", "(a MSG, Turn)"},
        {"3.3.4", "(-MSG,x)", "(-MSG,x)"},
        {"3.3.4", "(,MSG)", "(,MSG)"},
        {"3.3.4", "(G0 X1; #3=5 [ / % N)", "(G0 X1; #3=5 [ / % N)"},
        {"3.3.4", "(a\tb)", "(a b)"},
        {"3.3.4", "(Pl\xC3\xA4ttchen)", "(Pl\xC3\xA4ttchen)"},
        {"3.3.4", "(Pl\xE4ttchen)", "(Pl?ttchen)"}, /* no UTF-8 */
        {"3.3.5", "(one) (two)", "(two)"},
        {"3.3.5", "(MSG,one) M5 (two)", "M5 (two)"}, /* only the last one is used */
        {"3.3.5", "(one) (MSG,two)", "MSG(two)"},
        {"3.3.6", "X1(a)Y2", "X1 Y2 (a)"},
    };
    rs274_check_accepted(accepted, COUNT(accepted));
    static const rs274_rejected rejected[] = {
        {"3.3.4", "M5 (stop", 4, TU_DATA_SYNTAX, "the comment that starts here is not closed"},
        {"3.3.4", "(", 1, TU_DATA_SYNTAX, "not closed on its line"},
        {"3.3.4", "(a) (\xC3\xA4\xC3\xB6", 5, TU_DATA_SYNTAX, "not closed on its line"},
        {"3.3.4", "(a (b) c)", 4, TU_DATA_SYNTAX, "a comment cannot hold another one"},
        {"3.3.4", "(\xC3\xA4 (b)", 4, TU_DATA_SYNTAX, "a comment cannot hold another one"},
        {"3.3.4", "M5 )", 4, TU_DATA_SYNTAX, "no comment is open here"},
        {"3.3.4", "X(a)1", 2, TU_DATA_SYNTAX, "a comment stands between words"},
        {"3.3.4", "X[1(a)+1]", 4, TU_DATA_SYNTAX, "a comment stands between words"},
        {"3.3.4", "(a\x01)", 3, TU_DATA_SYNTAX, "control character \\x01"},
        {"3.3.4", "(a\x7F)", 3, TU_DATA_SYNTAX, "control character \\x7F"},
        {"3.3.4", "M5 ; stop", 4, TU_DATA_SYNTAX, "a comment stands in parentheses"},
        {"3.3.5", "(a (b) (fine)", 4, TU_DATA_SYNTAX, "cannot hold another"}, /* checked, though
                                                                               not the last */
    };
    rs274_check_rejected(rejected, COUNT(rejected));
}

static void settings_use_the_values_from_before_the_line(void **state)
{
    (void)state;
    static const rs274_accepted accepted[] = {
        {"3.3.3", "#3 = 15", "#3=15"},           /* the standard's own example */
        {"3.3.3", "#3=6 G1 x#3", "G1 X15 #3=6"}, /* the standard's own example: x is 15 */
        {"3.3.3", "#3=6 #2=#3", "#3=6 #2=15"},
        {"3.3.5", "#3=15 #3=6", "#3=15 #3=6"}, /* in order: the last one counts */
        {"3.3.3", "##2=7", "#4=7"},            /* #2 is 4 */
        {"3.3.3", "#[1+#2]=-1.5", "#5=-1.5"},
        {"3.3.3", "#1=[#1+1]", "#1=11"},
        {"3.3.3", "#1=#2#2=#1", "#1=4 #2=10"}, /* an exchange */
        {"3.3.3", "#5400=1", "#5400=1"},
        {"3.3.3", "#1=-0", "#1=-0"},
        {"3.3.3", "#3.00005=1", "#3=1"}, /* close to whole, 3.3.2.1 */
        {"3.3.3", "#1=1#2=2#3=3#4=4#5=5#6=6#7=7#8=8#9=9#10=10#11=11#12=12#13=13#14=14#15=15#16=16",
         "#1=1 #2=2 #3=3 #4=4 #5=5 #6=6 #7=7 #8=8 #9=9 #10=10 #11=11 #12=12 #13=13 #14=14 #15=15 "
         "#16=16"},
    };
    rs274_check_accepted(accepted, COUNT(accepted));
    static const rs274_rejected rejected[] = {
        {"3.3.3", "#3", 3, TU_DATA_SYNTAX, "the line ends here, expected = and the new value"},
        {"3.3.3", "#3 G1", 4, TU_DATA_SYNTAX, "found \"G\", expected ="},
        {"3.3.3", "#3=", 4, TU_DATA_SYNTAX, "the line ends here, expected a number"},
        {"3.3.3", "#=5", 2, TU_DATA_SYNTAX, "found \"=\", expected a number"},
        {"3.3.3", "#3==5", 4, TU_DATA_SYNTAX, "found \"=\", expected a number"},
        {"3.3.3", "#3=5=6", 5, TU_DATA_SYNTAX, "found \"=\", expected a word"},
        {"3.3.3", "#0=1", 2, TU_DATA_RANGE, "there is no parameter #0"},
        {"3.3.3", "#5401=1", 2, TU_DATA_RANGE, "there is no parameter #5401"},
        {"3.3.3", "#-1=1", 2, TU_DATA_RANGE, "there is no parameter #-1"},
        {"3.3.3", "#1.5=1", 2, TU_DATA_RANGE, "there is no parameter #1.5"},
        {"3.3.3", "#1=#20", 4, TU_DATA_RANGE, "parameter #20 has no value"},
        {"3.3.3", "#1=1#1=1#1=1#1=1#1=1#1=1#1=1#1=1#1=1#1=1#1=1#1=1#1=1#1=1#1=1#1=1#1=1", 65,
         TU_DATA_SYNTAX, "more than 16 parameters are set on one line"},
    };
    rs274_check_rejected(rejected, COUNT(rejected));
}

/* The standard: five items mean the same "in any of the 120 possible orders". Its G40 is G17 here.
 */
static void the_five_items_of_the_standards_example_mean_the_same_in_all_120_orders(void **state)
{
    (void)state;
    static const char *const items[] = {"g17 ", "g1 x1 ", "#3=15 ", "(foo) ", "#4=-7.0 "};
    int orders = 0;
    for (int code = 0; code < 5 * 5 * 5 * 5 * 5; code++) {
        unsigned used = 0;
        char line[100] = "";
        for (int i = 0, rest = code; i < 5; i++, rest /= 5) {
            used |= 1U << rest % 5;
            strcat(line, items[rest % 5]);
        }
        if (used != 31)
            continue;
        orders++;
        bool three_first = strchr(line, '=')[1] == '1';
        rs274_accepted row = {"3.3.6", line,
                              three_first ? "G1 G17 X1 #3=15 #4=-7 (foo)"
                                          : "G1 G17 X1 #4=-7 #3=15 (foo)"};
        rs274_check_accepted(&row, 1);
    }
    assert_int_equal(orders, 120);
}

static void foreign_characters_are_refused_where_they_stand(void **state)
{
    (void)state;
    static const rs274_rejected rejected[] = {
        {"3.3", "X1,5", 3, TU_DATA_SYNTAX, "write a decimal point"},
        {"3.3",
         "G0 X\xE2\x88\x92"
         "1",
         5, TU_DATA_SYNTAX, "write the minus sign as -"},
        {"3.3", "\xEF\xBB\xBFG0 X1", 1, TU_DATA_SYNTAX, "byte order mark"},
        {"3.3", "G0 \xC3\xA4", 4, TU_DATA_SYNTAX, "found \"\xC3\xA4\", expected a word"},
        {"3.3", "G0 \xE4", 4, TU_DATA_SYNTAX, "found \"\\xE4\", expected a word"},
        {"3.3", "(\xC3\xA4) \xC3\xB6", 5, TU_DATA_SYNTAX, "found \"\xC3\xB6\""},
        {"3.3", "X1\x0BY1", 3, TU_DATA_SYNTAX, "found \"\\x0B\""},
        {"3.3", "X1\x0C", 3, TU_DATA_SYNTAX, "found \"\\x0C\""},
        {"3.3", "$", 1, TU_DATA_SYNTAX, "found \"$\""},
        {"3.3", "1", 1, TU_DATA_SYNTAX, "found \"1\", expected a word"},
        {"3.3", "[1]", 1, TU_DATA_SYNTAX, "found \"[\", expected a word"},
        {"3.3", "X1]", 3, TU_DATA_SYNTAX, "found \"]\", expected a word"},
        {"3.3", "X1%", 3, TU_DATA_SYNTAX, "percent signs stand alone on their lines"},
        {"3.3", "% (name)", 1, TU_DATA_SYNTAX, "percent signs stand alone on their lines"},
    };
    rs274_check_rejected(rejected, COUNT(rejected));
}

/* --- Files --- */

typedef struct file_reading {
    tu_rs274_reader reader;
    tu_rs274_block block;
    tu_error error;
    bool have;
} file_reading;

static file_reading begin(const char *text, size_t length)
{
    return (file_reading){.reader = tu_rs274_start(text, length)};
}

static void expect_block(file_reading *reading, size_t line, const char *meaning)
{
    tu_status status = tu_rs274_next(&reading->reader, rs274_sample_parameters(), &reading->block,
                                     &reading->have, &reading->error);
    check_status(status, TU_OK, &reading->error);
    assert_true(reading->have);
    assert_int_equal(reading->block.line, line);
    assert_string_equal(rs274_show_block(&reading->block).text, meaning);
}

static void expect_error(file_reading *reading, const char *where, const char *said)
{
    tu_status status = tu_rs274_next(&reading->reader, rs274_sample_parameters(), &reading->block,
                                     &reading->have, &reading->error);
    assert_int_equal(status, TU_DATA_SYNTAX);
    assert_false(reading->have);
    assert_string_equal(reading->error.where, where);
    check_contains(reading->error.message, said);
}

/* Twice: the end stays the end. */
static void expect_end(file_reading *reading, bool ended)
{
    for (int i = 0; i < 2; i++) {
        tu_status status = tu_rs274_next(&reading->reader, rs274_sample_parameters(),
                                         &reading->block, &reading->have, &reading->error);
        check_status(status, TU_OK, &reading->error);
        assert_false(reading->have);
        assert_int_equal(reading->reader.ended, ended);
    }
}

static void every_end_of_line_is_read_and_counted(void **state)
{
    (void)state;
    static const char *const ends[] = {"\n", "\r\n", "\r"};
    for (size_t i = 0; i < COUNT(ends); i++) {
        char text[100];
        snprintf(text, sizeof text, "M5%s%s \t%s/%sG0 X1", ends[i], ends[i], ends[i], ends[i]);
        file_reading reading = begin(text, strlen(text));
        expect_block(&reading, 1, "M5");
        expect_block(&reading, 4, "/");
        expect_block(&reading, 5, "G0 X1"); /* without an end of its own */
        expect_end(&reading, false);
    }
}

static void an_empty_text_and_one_of_blank_lines_have_no_block(void **state)
{
    (void)state;
    static const char *const texts[] = {"", "\n", "\r", "\r\n", " ", "\t \n\n  \r\n"};
    for (size_t i = 0; i < COUNT(texts); i++) {
        file_reading reading = begin(texts[i], strlen(texts[i]));
        expect_end(&reading, false);
    }
}

static void m2_ends_the_program_and_nothing_behind_it_is_read(void **state)
{
    (void)state;
    const char *text = "M5\nM2\nthis is no block\n";
    file_reading reading = begin(text, strlen(text));
    expect_block(&reading, 1, "M5");
    expect_block(&reading, 2, "M2");
    assert_true(reading.block.end);
    expect_end(&reading, true);
}

static void a_deleted_m2_ends_nothing_by_itself(void **state)
{
    (void)state;
    const char *text = "/M2\nM5\n";
    file_reading reading = begin(text, strlen(text));
    expect_block(&reading, 1, "/ M2");
    expect_block(&reading, 2, "M5");
    expect_end(&reading, false);
}

static void percent_signs_delimit_a_file(void **state)
{
    (void)state;
    const char *text = "\n \t% \nM5\n\n%\t\nthis is no block\n";
    file_reading reading = begin(text, strlen(text));
    assert_true(reading.reader.percent);
    expect_block(&reading, 3, "M5");
    expect_block(&reading, 5, "M2"); /* the closing percent sign: .end */
    assert_true(reading.block.end);
    expect_end(&reading, true);
}

static void a_percent_file_without_its_second_sign_is_refused_unless_m2_ends_it(void **state)
{
    (void)state;
    const char *open = "%\nM5\nG0 X1\n";
    file_reading reading = begin(open, strlen(open));
    expect_block(&reading, 2, "M5");
    expect_block(&reading, 3, "G0 X1");
    expect_error(&reading, "line 3, column 1", "without M2 or a closing percent sign");
    expect_end(&reading, false); /* said once */

    const char *closed = "%\r\nM2\r\n";
    reading = begin(closed, strlen(closed));
    expect_block(&reading, 2, "M2");
    expect_end(&reading, true);
}

static void a_percent_sign_that_opens_nothing_is_refused(void **state)
{
    (void)state;
    const char *text = "M5\n%\n";
    file_reading reading = begin(text, strlen(text));
    expect_block(&reading, 1, "M5");
    expect_error(&reading, "line 2, column 1", "first and last in the file");
}

static void a_line_has_at_most_256_characters(void **state)
{
    (void)state;
    char text[600];
    for (int length = 255; length <= 258; length++) {
        memset(text, ' ', sizeof text);
        memcpy(text, "M5", 2);
        memcpy(text + length, "\r\nM9", 5);
        file_reading reading = begin(text, strlen(text));
        if (length <= 256)
            expect_block(&reading, 1, "M5");
        else
            expect_error(&reading, "line 1, column 257", "at most 256 are allowed");
        expect_block(&reading, 2, "M9"); /* reading can go on */
    }
    memset(text, '9', 256);
    memcpy(text, "(MSG,", 5);
    text[255] = ')';
    file_reading reading = begin(text, 256);
    reading.have = false;
    assert_int_equal(tu_rs274_next(&reading.reader, rs274_sample_parameters(), &reading.block,
                                   &reading.have, NULL),
                     TU_OK);
    assert_int_equal(strlen(reading.block.message), 256 - 6); /* the longest message fits */
}

static void reading_can_go_on_after_a_bad_line(void **state)
{
    (void)state;
    const char *text = "G2 X1\nM5\nX1 (a\nX[1\nM9";
    file_reading reading = begin(text, strlen(text));
    expect_error(&reading, "line 1, column 1", "G2");
    expect_block(&reading, 2, "M5");
    expect_error(&reading, "line 3, column 4", "not closed");
    expect_error(&reading, "line 4, column 4", "expected an operation or ]");
    expect_block(&reading, 5, "M9");
    expect_end(&reading, false);
}

static void a_nul_byte_is_no_end_but_an_error(void **state)
{
    (void)state;
    static const char text[] = "M5\0\nX\0001\n(a\0b)\nM9";
    file_reading reading = begin(text, sizeof text - 1);
    expect_error(&reading, "line 1, column 3", "found \"\\x00\", expected a word");
    expect_error(&reading, "line 2, column 2", "found \"\\x00\", expected a number");
    expect_error(&reading, "line 3, column 3", "control character \\x00");
    expect_block(&reading, 4, "M9");
}

static void only_the_stated_length_is_read(void **state)
{
    (void)state;
    const char *text = "G0 X12";
    file_reading reading = begin(text, 5);
    expect_block(&reading, 1, "G0 X1");
    expect_end(&reading, false);
    /* Every beginning of a line ends somewhere: each must be read or refused, and no byte behind
     * it touched, which the sanitizer sees in a copy of just that size. */
    const char *line = "/N10 G1 X[2**[1+sin[30]]/atan[1]/[2]]#[1+1]=#3 (MSG,a)";
    for (size_t length = 0; length <= strlen(line); length++) {
        char *copy = malloc(length + (length == 0));
        assert_non_null(copy);
        memcpy(copy, line, length);
        reading = begin(copy, length);
        tu_status status = tu_rs274_next(&reading.reader, rs274_sample_parameters(), &reading.block,
                                         &reading.have, &reading.error);
        assert_true(!status || status == TU_DATA_SYNTAX);
        assert_int_equal(reading.reader.position, length);
        free(copy);
    }
    assert_true(reading.have);
}

static void an_error_may_be_ignored(void **state)
{
    (void)state;
    tu_rs274_reader reader = tu_rs274_start("G2\nM5", 5);
    tu_rs274_block block;
    bool have = true;
    assert_int_equal(tu_rs274_next(&reader, rs274_sample_parameters(), &block, &have, NULL),
                     TU_DATA_SYNTAX);
    assert_false(have);
    check_nan(block.x, "X");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(blanks_and_case_do_not_change_a_line),
        cmocka_unit_test(line_numbers_are_of_one_to_five_digits),
        cmocka_unit_test(block_delete_is_a_slash_in_front),
        cmocka_unit_test(comments_and_messages_are_kept_as_they_are_written),
        cmocka_unit_test(settings_use_the_values_from_before_the_line),
        cmocka_unit_test(the_five_items_of_the_standards_example_mean_the_same_in_all_120_orders),
        cmocka_unit_test(foreign_characters_are_refused_where_they_stand),
        cmocka_unit_test(every_end_of_line_is_read_and_counted),
        cmocka_unit_test(an_empty_text_and_one_of_blank_lines_have_no_block),
        cmocka_unit_test(m2_ends_the_program_and_nothing_behind_it_is_read),
        cmocka_unit_test(a_deleted_m2_ends_nothing_by_itself),
        cmocka_unit_test(percent_signs_delimit_a_file),
        cmocka_unit_test(a_percent_file_without_its_second_sign_is_refused_unless_m2_ends_it),
        cmocka_unit_test(a_percent_sign_that_opens_nothing_is_refused),
        cmocka_unit_test(a_line_has_at_most_256_characters),
        cmocka_unit_test(reading_can_go_on_after_a_bad_line),
        cmocka_unit_test(a_nul_byte_is_no_end_but_an_error),
        cmocka_unit_test(only_the_stated_length_is_read),
        cmocka_unit_test(an_error_may_be_ignored),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
