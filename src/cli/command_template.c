/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * command_template.c - `trueup template`: a template for the lines of a controller.
 */
#include "cli/command.h"
#include "cli/template_lines.h"
#include "cli/template_options.h"
#include "cli/template_save.h"
#include "trueup/decode.h"
#include "trueup/shop.h"

#include <string.h>

/* What a run holds until its end. */
typedef struct template_run {
    tu_template_options options;
    tu_shop *shop;
    tu_template template;
    tu_template_lines lines;
    tu_warnings warnings;
} template_run;

static tu_status find_template(template_run *run, tu_error *error)
{
    const tu_template_options *options = &run->options;
    if (options->template_text) {
        tu_status status = tu_template_parse(options->template_text, &run->template, error);
        return status && error ? tu_fail(error, status, "--template", "%s", error->message)
                               : status;
    }
    tu_status status = tu_template_work_out(run->lines.line[0].text, options->shown_mm,
                                            options->unit, &run->template, error);
    return status && error ? tu_fail(error, status, "--line", "%s", error->message) : status;
}

/* A template that comes first in the file takes the lines away from a new one. */
static void warn_of_earlier(template_run *run, tu_decode_setup setup)
{
    size_t count;
    const tu_template *templates = tu_shop_templates(run->shop, &count);
    for (size_t i = 0; i < count; i++) {
        const char *name = tu_shop_template_name_at(run->shop, i);
        tu_template_lines first = {.count = 1};
        first.line[0].text = run->lines.line[0].text;
        setup.templates = &templates[i];
        tu_template_lines_read(&first, &setup);
        if (first.line[0].read && strcmp(templates[i].text, run->template.text) != 0)
            tu_warn(&run->warnings,
                    "the template \"%s\" of %s reads the line already, and comes first", name,
                    run->options.shop_path);
    }
}

static tu_status try_lines(template_run *run, tu_error *error)
{
    tu_decode_setup setup = tu_decode_setup_start();
    setup.templates = &run->template;
    setup.template_count = 1;
    setup.unit = run->options.unit;
    if (run->shop)
        setup.machine = tu_shop_machine(run->shop);
    tu_template_lines_read(&run->lines, &setup);
    if (!run->lines.line[0].read)
        return tu_fail(error, TU_DATA_SYNTAX, "--line", "the first line is not read: %s",
                       run->lines.line[0].decoded.reason);
    if (run->shop && run->options.save_name)
        warn_of_earlier(run, setup);
    return TU_OK;
}

static void write_advice(FILE *out, const template_run *run)
{
    const tu_template_options *options = &run->options;
    if (!options->template_text && strstr(run->template.text, "{_}"))
        tu_options_write_wrapped(
            out,
            "\n{_} stands for a number that is no coordinate and may change. If it counts the "
            "touches, write {n} in its place, and a lost line is noticed: give the whole to "
            "--template.",
            0, 0);
    if (run->lines.count == 1)
        tu_options_write_wrapped(out,
                                 "\nCheck it on more lines before you rely on it: a second --line "
                                 "from another touch, and one from a touch that missed, which must "
                                 "not be read.",
                                 0, 0);
    if (!options->save_name)
        return;
    bool usual = run->template.unit_stated || tu_shop_unit(run->shop) == TU_UNIT_MM;
    fprintf(out, "\nSaved in %s as templates.%s.\nTo log by it: trueup log --shop %s%s%s ...\n",
            options->shop_path, options->save_name, options->shop_path, usual ? "" : " --unit ",
            usual ? "" : tu_unit_name(options->unit));
    if (run->template.unit_stated)
        fprintf(out, "The template holds its unit, %s.\n", tu_unit_name(run->template.unit));
}

static tu_status write_answer(FILE *out, const void *of, tu_error *error)
{
    const template_run *run = of;
    (void)error;
    fprintf(out, "Template: %s\n", run->template.text);
    tu_template_lines_write(out, &run->lines, run->options.unit);
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
    return run->options.save_name ? "; the template was saved all the same" : "";
}

static tu_warnings *warnings_of(void *of)
{
    return &((template_run *)of)->warnings;
}

static void end(void *of)
{
    template_run *run = of;
    tu_template_lines_destroy(&run->lines);
    tu_shop_destroy(run->shop);
}

static tu_status work(void *of, tu_error *error)
{
    template_run *run = of;
    const tu_template_options *options = &run->options;
    tu_status status = tu_template_options_check(options, error);
    if (!status && options->shop_path)
        status = tu_shop_read(options->shop_path, &run->shop, error);
    if (!status && run->shop)
        status = tu_typed_unit_check(&options->common.typed, options->unit, run->shop,
                                     options->shop_path, error);
    if (!status)
        status = tu_template_lines_take(&run->lines, options, error);
    if (!status)
        status = find_template(run, error);
    if (!status && options->common.typed.stated) {
        run->template.unit_stated = true;
        run->template.unit = options->unit;
    }
    if (!status)
        status = try_lines(run, error);
    if (!status && options->save_name)
        status = tu_template_save(run->shop, options->shop_path, options->save_name, &run->template,
                                  error);
    return status;
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
