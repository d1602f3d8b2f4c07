/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_report_trials_json.c - the numbers of the story as they are, in millimetres whatever the
 * unit, and no key for what is not known. docs/trials.schema.json is held against the program in
 * tests/cli.
 */
#include "trials_bench.h"

#include <cjson/cJSON.h>

static trials_bench bench;

static cJSON *read_back(void)
{
    char *text = bench_written(tu_report_trials_json, &bench);
    check_lacks(text, "nan");
    check_lacks(text, "inf");
    cJSON *root = cJSON_Parse(text);
    assert_non_null(root);
    free(text);
    return root;
}

static const cJSON *series_of(const cJSON *root, int i)
{
    return cJSON_GetArrayItem(cJSON_GetObjectItem(root, "series"), i);
}

static double number_of(const cJSON *item, const char *key)
{
    const cJSON *number = cJSON_GetObjectItemCaseSensitive(item, key);
    return number ? number->valuedouble : NAN;
}

/* Bit by bit: a number that is read back is the one that was written. NaN stands for no key. */
static void check_figure(const cJSON *item, const char *key, double expected)
{
    double found = number_of(item, key);
    if (isnan(expected))
        check_nan(found, key);
    else
        check_same(found, expected, key);
}

static void every_figure_is_in_it_or_has_no_key(void **state)
{
    (void)state;
    for (int kind = 0; kind < 2 * BENCH_KINDS; kind++) {
        bench_kind(&bench, kind / 2, kind % 2 ? TU_UNIT_INCH : TU_UNIT_MM);
        cJSON *root = read_back();
        const tu_trial_figures *f = &bench.entry[0].figures;
        const cJSON *item = series_of(root, 0);
        check_figure(item, "n", (double)f->n);
        check_figure(item, "mean", f->mean);
        check_figure(item, "median", f->median);
        check_figure(item, "sd", f->sd);
        check_figure(item, "min", f->minimum);
        check_figure(item, "max", f->maximum);
        check_figure(item, "range", f->range);
        check_figure(item, "lag1", f->lag1);
        check_figure(item, "step", f->step_mm);
        check_figure(item, "step_seen", f->step_seen_mm);
        check_figure(item, "repeats_within", bench.entry[0].within_mm);
        check_figure(cJSON_GetObjectItem(item, "chart"), "upper", f->chart_upper);
        assert_int_equal(cJSON_GetArraySize(cJSON_GetObjectItem(item, "outliers")),
                         (int)f->outlier_count);
        check_nan(number_of(item, "sd_beside"), "nothing was taken out");
        check_nan(number_of(root, "within"), "no limit was given");
        assert_string_equal(cJSON_GetObjectItem(root, "unit")->valuestring, "mm");
        cJSON_Delete(root);
        bench_end(&bench);
    }
}

static void an_outlier_has_its_index_and_its_line(void **state)
{
    (void)state;
    bench_start(&bench, TU_UNIT_MM);
    tu_trials_entry *entry = bench_add_normal(&bench, "seat", 20, 0, 11);
    entry->figures.outlier_count = 1;
    entry->figures.outlier[0] =
        (tu_trial_outlier){.index = 6, .value_mm = 3.5, .statistic = 2.5, .critical = 2.25};
    cJSON *root = read_back();
    const cJSON *one = cJSON_GetArrayItem(cJSON_GetObjectItem(series_of(root, 0), "outliers"), 0);
    check_figure(one, "index", 6);
    check_figure(one, "line", 8); /* lines begin at 2 */
    check_figure(one, "value", 3.5);
    check_figure(one, "statistic", 2.5);
    check_figure(one, "critical", 2.25);
    cJSON_Delete(root);
    bench_end(&bench);
}

static void what_was_judged_beside_a_fit_says_so(void **state)
{
    (void)state;
    bench_start(&bench, TU_UNIT_MM);
    tu_trials_entry *entry = bench_add_normal(&bench, "cold", 30, 0, 11);
    entry->effect = TU_TRIALS_FEED;
    entry->within_mm = 0.004;
    entry->within_all_mm = 0.03;
    entry->sd_mm = 0.002;
    entry->dof = 28;
    bench.story.limit_mm = 0.01;
    cJSON *root = read_back();
    const cJSON *item = series_of(root, 0);
    assert_string_equal(cJSON_GetObjectItem(item, "judged_beside")->valuestring, "feed");
    check_figure(item, "repeats_within", 0.004);
    check_figure(item, "repeats_within_all", 0.03);
    check_figure(item, "sd_beside", 0.002);
    check_figure(item, "dof_beside", 28);
    check_figure(root, "within", 0.01);
    assert_true(cJSON_IsFalse(cJSON_GetObjectItem(root, "exceeded")));
    cJSON_Delete(root);
    bench.story.limit_mm = 0.003;
    root = read_back();
    assert_true(cJSON_IsTrue(cJSON_GetObjectItem(root, "exceeded")));
    cJSON_Delete(root);
    bench_end(&bench);
}

static void check_sentences(const cJSON *list, const tu_trials_words *words)
{
    assert_int_equal(cJSON_GetArraySize(list), (int)words->count);
    for (size_t i = 0; i < words->count; i++)
        assert_string_equal(cJSON_GetArrayItem(list, (int)i)->valuestring, words->text[i]);
}

static void its_sentences_are_those_of_the_text(void **state)
{
    (void)state;
    static tu_trials_words words;
    for (int kind = 0; kind < BENCH_KINDS; kind++) {
        bench_kind(&bench, kind, TU_UNIT_MM);
        cJSON *root = read_back();
        words = (tu_trials_words){0};
        tu_trials_verdict(&words, &bench.story, &bench.entry[0]);
        check_sentences(cJSON_GetObjectItem(series_of(root, 0), "verdict"), &words);
        words = (tu_trials_words){0};
        tu_trials_advice(&words, &bench.story);
        check_sentences(cJSON_GetObjectItem(root, "advice"), &words);
        if (bench.story.has_comparison) {
            words = (tu_trials_words){0};
            tu_trials_say_comparison(&words, &bench.story);
            check_sentences(cJSON_GetObjectItem(cJSON_GetObjectItem(root, "comparison"), "verdict"),
                            &words);
        }
        cJSON_Delete(root);
        bench_end(&bench);
    }
}

static void a_study_has_its_members_by_name(void **state)
{
    (void)state;
    bench_start(&bench, TU_UNIT_MM);
    bench_add_normal(&bench, "", 160, 0.0025, 21);
    bench_study(&bench, 40);
    cJSON *root = read_back();
    const cJSON *groups = cJSON_GetObjectItem(root, "groups");
    const cJSON *members = cJSON_GetObjectItem(groups, "members");
    assert_int_equal(cJSON_GetArraySize(members), 40);
    check_figure(groups, "repeatability", bench.story.groups.repeatability);
    check_figure(groups, "reproducibility", bench.story.groups.reproducibility);
    check_figure(cJSON_GetArrayItem(members, 39), "mean", bench.group[39].mean);
    assert_string_equal(cJSON_GetObjectItem(cJSON_GetArrayItem(members, 39), "name")->valuestring,
                        "seat number 40");
    cJSON_Delete(root);
    bench_end(&bench);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_figure_is_in_it_or_has_no_key),
        cmocka_unit_test(an_outlier_has_its_index_and_its_line),
        cmocka_unit_test(what_was_judged_beside_a_fit_says_so),
        cmocka_unit_test(its_sentences_are_those_of_the_text),
        cmocka_unit_test(a_study_has_its_members_by_name),
    };
    return cmocka_run_group_tests_name("report_trials_json", tests, NULL, NULL);
}
