/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * command_bed.c - `trueup bed`: how flat the bed is, and what to do about it.
 */
#include "cli/bed_options.h"
#include "cli/command.h"
#include "cli/face.h"

#include <unistd.h>

/* What a run holds until its end. */
typedef struct bed_run {
    tu_bed_options options;
    tu_task_bed_story story;
} bed_run;

static tu_bed_style style_of(const tu_bed_options *options)
{
    return (tu_bed_style){.unit = options->task.unit,
                          .map = isatty(STDOUT_FILENO) == 1,
                          .without_tilt = options->without_tilt};
}

static tu_status write_answer(FILE *out, const void *of, tu_error *error)
{
    const bed_run *run = of;
    const tu_bed_style style = style_of(&run->options);
    return run->options.json ? tu_report_bed_json(out, run->story.answer, error)
                             : tu_report_bed_text(out, run->story.answer, &style, error);
}

static tu_status draw(FILE *out, const void *of, tu_error *error)
{
    const bed_run *run = of;
    const tu_bed_style style = style_of(&run->options);
    return tu_report_bed_svg(out, run->story.answer, &style, error);
}

static tu_status write_again(FILE *out, const void *of, tu_error *error)
{
    const bed_run *run = of;
    (void)error; /* the file sees what was lost */
    fwrite(run->story.program, 1, run->story.program_length, out);
    return TU_OK;
}

static void name_files(const void *of, tu_output_file file[TU_OUTPUT_FILES])
{
    const bed_run *run = of;
    file[0] = (tu_output_file){run->options.svg_path, draw};
    file[1] = (tu_output_file){run->story.program ? run->options.task.re_touch : NULL, write_again};
}

static void start(void *of)
{
    bed_run *run = of;
    tu_bed_options_start(&run->options);
}

static tu_status work(void *of, tu_error *error)
{
    bed_run *run = of;
    tu_task_bed_request *request = &run->options.task;
    request->face = &tu_cli_face;
    request->typed = run->options.common.typed;
    return tu_task_bed(request, &run->story, error);
}

static tu_warnings *warnings_of(void *of)
{
    return &((bed_run *)of)->story.answer->warnings;
}

static tu_status verdict(const void *of, tu_error *error)
{
    return tu_task_bed_verdict(&((const bed_run *)of)->story, error);
}

static void end(void *of)
{
    tu_task_bed_end(&((bed_run *)of)->story);
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
    .size = sizeof(bed_run),
    .start = start,
    .work = work,
    .files = name_files,
    .answer = write_answer,
    .warnings = warnings_of,
    .verdict = verdict,
    .end = end,
};
