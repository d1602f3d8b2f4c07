# SPDX-License-Identifier: GPL-3.0-or-later
# Completion of trueup's command lines for bash.
#
# Nothing is listed here twice: commands, options and their choices are read from the program's own
# help, once in a shell.

declare -gA _trueup_help

# The help of a command ("" for the program's), kept after the first time.
_trueup_help_of()
{
    if [[ -z ${_trueup_help[x$2]-} ]]; then
        _trueup_help[x$2]=$("$1" ${2:+"$2"} --help 2>/dev/null)
    fi
    printf '%s\n' "${_trueup_help[x$2]}"
}

# "--option ARGUMENT" a line, the argument missing for a flag.
_trueup_options()
{
    _trueup_help_of "$1" "$2" | sed -nE 's/^  (--[a-z-]+)( ([^ ]+))?(  .*)?$/\1 \3/p'
}

# What may follow an option that takes this argument.
_trueup_argument()
{
    case $1 in
    FILE | PLAN) compopt -o filenames 2>/dev/null; compgen -f -- "$2" ;;
    G54..G59.3) compgen -W 'G54 G55 G56 G57 G58 G59 G59.1 G59.2 G59.3' -- "$2" ;;
    TARGET) compgen -W "$_trueup_targets" -- "$2" ;;
    WHERE) compgen -W "- $("$3" ports 2>/dev/null | sed -nE 's/^(\/dev\/[^ ]+).*/\1/p')" -- "$2" ;;
    *'|'*) compgen -W "${1//|/ }" -- "$2" ;;
    esac
}

_trueup_targets='front-left-top front-right-top back-left-top back-right-top front-left-bottom
    front-right-bottom back-left-bottom back-right-bottom left right front back top bottom'

# The first word after a command that takes WHAT: its help says "WORD ...:" or "WORD:" a paragraph.
_trueup_whats()
{
    _trueup_help_of "$1" "$2" | sed -nE '/^Options:/q;s/^([a-z]+)( \[?TARGET\]?)?: .*/\1/p'
}

_trueup()
{
    local program=${COMP_WORDS[0]} word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]}
    local command=${COMP_WORDS[1]-} option argument
    COMPREPLY=()
    if ((COMP_CWORD == 1)) || [[ $COMP_CWORD == 2 && $command =~ ^(--)?help$ ]]; then
        local commands
        commands=$(_trueup_help_of "$program" '' | sed -nE '/^Commands:/,/^$/s/^  ([a-z]+) .*/\1/p')
        ((COMP_CWORD == 2)) || commands+=' help --help --version'
        mapfile -t COMPREPLY < <(compgen -W "$commands" -- "$word")
        return
    fi
    if [[ $before == --* ]]; then
        while read -r option argument; do
            [[ $option == "$before" && $argument ]] || continue
            mapfile -t COMPREPLY < <(_trueup_argument "$argument" "$word" "$program")
            return
        done < <(_trueup_options "$program" "$command")
    fi
    if [[ $word == -* ]]; then
        mapfile -t COMPREPLY < <(compgen -W \
            "$(_trueup_options "$program" "$command" | cut -d' ' -f1)" -- "$word")
    elif ((COMP_CWORD == 2)) && _trueup_help_of "$program" "$command" | grep -q '^Usage:.* \[\?WHAT'; then
        mapfile -t COMPREPLY < <(compgen -W "$(_trueup_whats "$program" "$command")" -- "$word")
    elif _trueup_help_of "$program" "$command" | grep -q '^Usage:.* \[\?TARGET'; then
        mapfile -t COMPREPLY < <(compgen -W "$_trueup_targets" -- "$word")
    else
        mapfile -t COMPREPLY < <(compgen -f -- "$word")
    fi
}

complete -F _trueup trueup
