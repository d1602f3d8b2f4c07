/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trial_figures - the figures of src/trials for scripts that hold them against other programs.
 *
 * Reads lines "WHAT | numbers | numbers" and writes a line of numbers for each. WHAT is one of the
 * table below.
 */
#include "trials/order.h"
#include "trueup/moments.h"
#include "trueup/trial_models.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { ROOM = 20000, LISTS = 2, LINE = 1000000 };

typedef struct lists {
    double value[LISTS][ROOM];
    size_t count[LISTS];
} lists;

static char line[LINE];
static lists input;
static double work[4 * ROOM];

static tu_trial_series series_of(const double *values, size_t count)
{
    return (tu_trial_series){.name = "", .count = count, .value_mm = values, .step_mm = NAN};
}

static void figures(void)
{
    tu_trial_figures f;
    tu_trial_series series = series_of(input.value[0], input.count[0]);
    if (!tu_trials_judge_series(&series, work, &f, NULL))
        printf("%.17g %.17g %.17g %.17g %.17g %.17g %.17g %.17g %.17g %.17g\n", f.mean, f.sd,
               f.median, f.lag1, f.normality, f.normality_p, f.mean_interval.low,
               f.mean_interval.high, f.sd_interval.low, f.sd_interval.high);
}

static void mann_kendall(void)
{
    double p, s = tu_trials_mann_kendall(input.value[0], input.count[0], work, &p);
    printf("%.17g %.17g\n", s, p);
}

static void theil_sen(void)
{
    tu_interval i;
    double slope = tu_trials_theil_sen(input.value[0], input.value[1], input.count[0], work, &i);
    printf("%.17g %.17g %.17g\n", slope, i.low, i.high);
}

static void compare(void)
{
    tu_trial_series a = series_of(input.value[0], input.count[0]);
    tu_trial_series b = series_of(input.value[1], input.count[1]);
    tu_trial_comparison c;
    if (!tu_trials_compare(&a, &b, work, &c, NULL))
        printf("%.17g %.17g %.17g %.17g %.17g %.17g %.17g %.17g %.17g %.17g %.17g\n", c.t, c.t_dof,
               c.t_p, c.difference_interval.low, c.difference_interval.high, c.f, c.f_p,
               c.sd_ratio_interval.low, c.sd_ratio_interval.high, c.brown_forsythe,
               c.brown_forsythe_p);
}

static void groups(void)
{
    static size_t number[ROOM];
    static tu_trial_group of[ROOM];
    size_t group_count = 0;
    for (size_t i = 0; i < input.count[0]; i++) {
        number[i] = (size_t)input.value[1][i];
        group_count = number[i] + 1 > group_count ? number[i] + 1 : group_count;
    }
    tu_trial_series series = series_of(input.value[0], input.count[0]);
    series.group = number;
    tu_trial_groups s;
    if (!tu_trials_study_groups(&series, group_count, of, &s, NULL))
        printf("%.17g %.17g %.17g %.17g\n", s.ss_between, s.ss_within, s.f, s.p);
}

static void warm_up(void)
{
    tu_trial_series series = series_of(input.value[1], input.count[1]);
    series.time_s = input.value[0];
    tu_warm_up fit;
    tu_error error;
    if (!tu_trials_fit_warm_up(&series, 0.01, work, &fit, &error)) {
        printf("%.17g %.17g %.17g %.17g %.17g %.17g %.17g\n", fit.start, fit.rise, fit.tau_s,
               fit.start_sd, fit.rise_sd, fit.tau_sd, fit.residual_sd);
    } else {
        printf("# %s\n", error.message);
    }
}

static const struct {
    const char *name;
    void (*show)(void);
} table[] = {{"figures", figures},     {"mann_kendall", mann_kendall},
             {"theil_sen", theil_sen}, {"compare", compare},
             {"groups", groups},       {"warm_up", warm_up}};

/* Fills input from what follows the name. */
static void read_lists(char *text)
{
    memset(input.count, 0, sizeof input.count);
    for (size_t list = 0; list < LISTS && text != NULL; list++) {
        char *next = strchr(text, '|'), *end;
        if (next != NULL)
            *next++ = '\0';
        for (double value = strtod(text, &end); end != text && input.count[list] < ROOM;
             value = strtod(text, &end)) {
            input.value[list][input.count[list]++] = value;
            text = end;
        }
        text = next;
    }
}

int main(void)
{
    while (fgets(line, LINE, stdin) != NULL) {
        char *bar = strchr(line, '|');
        size_t length = strcspn(line, " |\n"), k = 0, count = sizeof table / sizeof *table;
        while (k < count &&
               (strlen(table[k].name) != length || strncmp(table[k].name, line, length) != 0))
            k++;
        if (bar == NULL || k == count) {
            fprintf(stderr, "trial_figures: %.*s is not known\n", (int)length, line);
            return 2;
        }
        read_lists(bar + 1);
        table[k].show();
    }
    return 0;
}
