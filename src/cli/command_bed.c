/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * command_bed.c - `trueup bed`: how flat the bed is, and what to do about it.
 */
#include "cli/bed_judge.h"
#include "cli/command.h"
#include "cli/face.h"
#include "cli/output.h"
#include "record/atomic_file.h"

#include <math.h>
#include <stdlib.h>
#include <unistd.h>

/* The drawing, or the touch program that is worked out already. */
static tu_status fill_file(const tu_bed_run *run, const tu_bed_style *style, bool drawing,
                           tu_atomic_file *file, tu_error *error)
{
    FILE *stream;
    if (!drawing)
        return tu_atomic_write(file, run->again_program.text, run->again_program.length, error);
    tu_status status = tu_atomic_stream(file, &stream, error);
    return status ? status : tu_report_bed_svg(stream, &run->answer, style, error);
}

static tu_status write_file(const tu_bed_run *run, const tu_bed_style *style, bool drawing,
                            tu_atomic_file **written, tu_error *error)
{
    tu_atomic_file *file;
    tu_status status =
        tu_atomic_open(drawing ? run->options.svg_path : run->options.again_path, &file, error);
    if (status)
        return status;
    status = fill_file(run, style, drawing, file, error);
    if (status) {
        tu_atomic_abort(file);
        return status;
    }
    status = tu_atomic_commit_undoable(file, error);
    if (!status)
        *written = file;
    return status;
}

static tu_status write_answer(const tu_bed_run *run, const tu_bed_style *style, tu_error *error)
{
    tu_sheet sheet;
    tu_status status = tu_sheet_open(&sheet, error);
    if (!status)
        status = run->options.json ? tu_report_bed_json(sheet.stream, &run->answer, error)
                                   : tu_report_bed_text(sheet.stream, &run->answer, style, error);
    if (!status)
        status = tu_sheet_finish(&sheet, error);
    if (!status)
        status = tu_output_write(sheet.text, sheet.length, error);
    tu_sheet_destroy(&sheet);
    return status;
}

/* The files go with the answer: where the answer is lost, they are as they were. */
static tu_status write_all(const tu_bed_run *run, tu_error *error)
{
    const tu_bed_style style = {.unit = run->options.unit,
                                .map = isatty(STDOUT_FILENO) == 1,
                                .without_tilt = run->options.without_tilt};
    tu_atomic_file *drawing = NULL, *program = NULL;
    tu_status status = TU_OK;
    if (run->options.svg_path)
        status = write_file(run, &style, true, &drawing, error);
    if (!status && run->answer.again)
        status = write_file(run, &style, false, &program, error);
    if (!status)
        status = write_answer(run, &style, error);
    void (*const end)(tu_atomic_file *) = status ? tu_atomic_undo : tu_atomic_keep;
    end(program);
    end(drawing);
    if (!status)
        tu_output_write_warnings(&run->answer.warnings);
    return status;
}

/* A verdict on a job takes touches all over it; by this share they may miss its edges. */
static const double untouched_most = 0.01;

static tu_status judge_limit(const tu_bed_answer *answer, tu_error *error)
{
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

static tu_status run_bed(const tu_command *command, int argc, char **argv, tu_error *error)
{
    bool help = false;
    tu_bed_run *run = calloc(1, sizeof *run);
    if (!run)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    tu_bed_options_start(&run->options);
    tu_status status = tu_command_parse(command, argc, argv, &run->options, &help, error);
    if (status || help)
        goto cleanup;
    status = tu_bed_options_check(&run->options, error);
    if (!status)
        status = tu_bed_judge(run, error);
    tu_face_say_warnings(&tu_cli_face, &run->answer.warnings);
    if (!status)
        status = write_all(run, error);
    if (!status)
        status = judge_limit(&run->answer, error);
cleanup:
    tu_bed_run_destroy(run);
    free(run);
    return status;
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
    .run = run_bed,
};
