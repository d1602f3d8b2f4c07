/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * command_template.c - `trueup template`: a template for the lines of a controller.
 */
#include "cli/command.h"
#include "cli/template_lines.h"
#include "cli/template_options.h"

#include <stdlib.h>
#include <string.h>

/* What a run holds until its end. */
typedef struct template_run {
    tu_template_options options;
    tu_template_input input;
    tu_task_template_story story;
} template_run;

static void write_advice(FILE *out, const template_run *run)
{
    const tu_task_template_request *request = &run->options.task;
    const tu_task_template_story *story = &run->story;
    if (!request->text && strstr(story->found->text, "{_}"))
        tu_options_write_wrapped(
            out,
            "\n{_} stands for a number that is no coordinate and may change. If it counts the "
            "touches, write {n} in its place, and a lost line is noticed: give the whole to "
            "--template.",
            0, 0);
    if (story->line_count == 1)
        tu_options_write_wrapped(out,
                                 "\nCheck it on more lines before you rely on it: a second --line "
                                 "from another touch, and one from a touch that missed, which must "
                                 "not be read.",
                                 0, 0);
    if (!request->save)
        return;
    bool usual = story->found->unit_stated || story->shop_unit == TU_UNIT_MM;
    fprintf(out, "\nSaved in %s as templates.%s.\nTo log by it: trueup log --shop %s%s%s ...\n",
            request->shop, request->save, request->shop, usual ? "" : " --unit ",
            usual ? "" : tu_unit_name(request->unit));
    if (story->found->unit_stated)
        fprintf(out, "The template holds its unit, %s.\n", tu_unit_name(story->found->unit));
}

static tu_status write_answer(FILE *out, const void *of, tu_error *error)
{
    const template_run *run = of;
    (void)error;
    fprintf(out, "Template: %s\n", run->story.found->text);
    tu_template_lines_write(out, &run->story, run->options.task.unit);
    write_advice(out, run);
    return TU_OK;
}

static void start(void *of)
{
    template_run *run = of;
    tu_template_options_start(&run->options);
}

static const char *kept(const void *of)
{
    const template_run *run = of;
    return run->options.task.save ? "; the template was saved all the same" : "";
}

static tu_warnings *warnings_of(void *of)
{
    return ((template_run *)of)->story.warnings;
}

static void end(void *of)
{
    template_run *run = of;
    tu_task_template_end(&run->story);
    free(run->input.text);
}

static tu_status work(void *of, tu_error *error)
{
    template_run *run = of;
    tu_task_template_request *request = &run->options.task;
    request->typed = run->options.common.typed;
    request->more = (tu_template_source){TU_TEMPLATE_INPUT, &run->input, tu_template_input_next};
    return tu_task_template(request, &run->story, error);
}

const tu_command tu_command_template = {
    .name = "template",
    .summary = "works out a line template from one sample line",
    .about =
        "Works out how to read the lines that a controller prints at a touch. Touch, copy the "
        "line, "
        "and type the X, Y and Z that the controller shows at that moment: each is looked for "
        "in the line, and the rest of the line becomes the template. Nothing is guessed: a "
        "coordinate that is not in the line, or in it twice, is an error that says what to do.\n\n"
        "With --template a template that you wrote is tried on lines. docs/device-lines.md has its "
        "fields.\n\n"
        "Machine coordinates, as everywhere in a log. Exit status 5: the line does not settle it.",
    .example = "  trueup template --line 'touch 7 at X:100.000 Y:80.000 Z:-40.120 ok:1' \\\n"
               "    --x 100.000 --y 80.000 --z -40.120 --shop shop.json --save touch\n",
    .syntax = &tu_template_syntax_table,
    .size = sizeof(template_run),
    .start = start,
    .work = work,
    .answer = write_answer,
    .warnings = warnings_of,
    .kept = kept,
    .end = end,
};
