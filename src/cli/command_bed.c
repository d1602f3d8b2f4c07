/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * command_bed.c - `trueup bed`: how flat the bed is, and what to do about it.
 */
#include "cli/bed_judge.h"
#include "cli/command.h"

#include <math.h>
#include <unistd.h>

static tu_bed_style style_of(const tu_bed_options *options)
{
    return (tu_bed_style){.unit = options->unit,
                          .map = isatty(STDOUT_FILENO) == 1,
                          .without_tilt = options->without_tilt};
}

static tu_status write_answer(FILE *out, const void *of, tu_error *error)
{
    const tu_bed_run *run = of;
    const tu_bed_style style = style_of(&run->options);
    return run->options.json ? tu_report_bed_json(out, &run->answer, error)
                             : tu_report_bed_text(out, &run->answer, &style, error);
}

static tu_status draw(FILE *out, const void *of, tu_error *error)
{
    const tu_bed_run *run = of;
    const tu_bed_style style = style_of(&run->options);
    return tu_report_bed_svg(out, &run->answer, &style, error);
}

static tu_status write_again(FILE *out, const void *of, tu_error *error)
{
    const tu_bed_run *run = of;
    (void)error; /* the file sees what was lost */
    fwrite(run->again_program.text, 1, run->again_program.length, out);
    return TU_OK;
}

static void name_files(const void *of, tu_output_file file[TU_OUTPUT_FILES])
{
    const tu_bed_run *run = of;
    file[0] = (tu_output_file){run->options.svg_path, draw};
    file[1] = (tu_output_file){run->answer.again ? run->options.again_path : NULL, write_again};
}

static void start(void *of)
{
    tu_bed_run *run = of;
    tu_bed_options_start(&run->options);
}

static tu_status work(void *of, tu_error *error)
{
    tu_bed_run *run = of;
    tu_status status = tu_bed_options_check(&run->options, error);
    return status ? status : tu_bed_judge(run, error);
}

static tu_warnings *warnings_of(void *of)
{
    return &((tu_bed_run *)of)->answer.warnings;
}

/* A verdict on a job takes touches all over it; by this share they may miss its edges. */
static const double untouched_most = 0.01;

static tu_status judge_limit(const void *of, tu_error *error)
{
    const tu_bed_answer *answer = &((const tu_bed_run *)of)->answer;
    const double unknown = answer->surfacing.unknown_mm2;
    const double share = unknown / (unknown + answer->surfacing.area_mm2);
    if (answer->range_mm <= answer->limit_mm && answer->job && share > untouched_most)
        return tu_fail(error, TU_UNDETERMINED, "--within",
                       "%.0f %% of the job was not touched, so nobody can say that all of it is "
                       "within %.3f mm: touch the bed there, or make --job smaller",
                       fmin(99, 100 * share), answer->limit_mm);
    if (!(answer->range_mm > answer->limit_mm))
        return TU_OK;
    return tu_fail(error, TU_LIMIT_EXCEEDED, "--within",
                   "the highest and the lowest place differ by %.3f mm, more than %.3f mm",
                   answer->range_mm, answer->limit_mm);
}

static void end(void *of)
{
    tu_bed_run_destroy(of);
}

const tu_command tu_command_bed = {
    .name = "bed",
    .summary = "flatness, tilt, surfacing, through cuts, and a map of the bed",
    .about =
        "Judges the bed from touches all over it, as `trueup plan grid` makes them and `trueup "
        "log` "
        "records them: how much of its unevenness is tilt, which shims take out, and how much is "
        "warp, which only surfacing does; how deep surfacing must go; and where a through cut "
        "leaves "
        "a skin or bites into the bed.\n\n"
        "The flatness figures are those of ISO 12781-1, by least squares and by the minimum zone, "
        "whose contact places are shown: they are its proof. The limit of --within is compared "
        "with "
        "the difference of the highest and the lowest place, tilt included, because that is what a "
        "job meets.",
    .example = "  trueup bed bed.hits.jsonl --svg map.svg --depth-of-cut 0.5\n"
               "  trueup bed bed.csv --job 100,50,300,200 --overcut 0.3 --within 0.4\n"
               "  trueup bed after.csv --against before.csv\n"
               "  trueup bed bed.hits.jsonl --shop shop.json --cutter pin --active 0,0,-80 "
               "--re-touch again.ngc\n",
    .syntax = &tu_bed_syntax_table,
    .size = sizeof(tu_bed_run),
    .start = start,
    .work = work,
    .files = name_files,
    .answer = write_answer,
    .warnings = warnings_of,
    .verdict = judge_limit,
    .end = end,
};
