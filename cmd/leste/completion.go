package main

import (
	"fmt"
	"strings"

	"github.com/alecthomas/kong"
)

type completionCommand struct {
	Shell string `arg:"" enum:"bash,zsh,fish" help:"Shell to complete in: ${enum}."`
}

// Run prints the completion script of a shell, made from the tree of commands.
func (c completionCommand) Run(p *program, parsed *kong.Context) error {
	words := completions(parsed.Model.Node, "")
	var script string
	switch c.Shell {
	case "fish":
		script = fishCompletion(words)
	case "zsh":
		script = "autoload -U +X bashcompinit && bashcompinit\n" + bashCompletion(words)
	default:
		script = bashCompletion(words)
	}
	if p.options.JSON {
		return p.printJSON(map[string]any{"shell": c.Shell, "script": script})
	}
	return p.print([]byte(script))
}

// A completion is what may follow a path of commands.
type completion struct {
	path  string // commands separated by spaces, "" at the start
	words []word
}

type word struct{ text, help string }

// completions lists every command with its subcommands and flags, outermost first.
func completions(n *kong.Node, path string) []completion {
	own := completion{path: path}
	var below []completion
	for _, child := range n.Children {
		if child.Type != kong.CommandNode || child.Hidden {
			continue
		}
		own.words = append(own.words, word{child.Name, child.Help})
		below = append(below, completions(child, strings.TrimSpace(path+" "+child.Name))...)
	}
	for _, group := range n.AllFlags(true) {
		for _, flag := range group {
			own.words = append(own.words, word{"--" + flag.Name, flag.Help})
		}
	}
	return append([]completion{own}, below...)
}

func bashCompletion(list []completion) string {
	var b strings.Builder
	b.WriteString(`_leste() {
	local path="" word candidate i
	for ((i = 1; i < COMP_CWORD; i++)); do
		word="${COMP_WORDS[i]}"
		[[ $word == -* ]] && continue
		candidate="${path:+$path }$word"
		_leste_words "$candidate" >/dev/null && path="$candidate"
	done
	mapfile -t COMPREPLY < <(compgen -W "$(_leste_words "$path")" -- "${COMP_WORDS[COMP_CWORD]}")
}
_leste_words() {
	case "$1" in
`)
	for _, c := range list {
		texts := make([]string, len(c.words))
		for i, w := range c.words {
			texts[i] = w.text
		}
		fmt.Fprintf(&b, "\t'%s') echo '%s' ;;\n", c.path, strings.Join(texts, " "))
	}
	b.WriteString(`	*) return 1 ;;
	esac
}
complete -o default -F _leste leste
`)
	return b.String()
}

func fishCompletion(list []completion) string {
	var b strings.Builder
	b.WriteString("complete -c leste -e\n")
	for _, c := range list {
		condition := "not __fish_seen_subcommand_from " + topWords(list)
		if c.path != "" {
			conditions := []string{}
			for command := range strings.FieldsSeq(c.path) {
				conditions = append(conditions, "__fish_seen_subcommand_from "+command)
			}
			condition = strings.Join(conditions, "; and ")
		}
		for _, w := range c.words {
			help := strings.ReplaceAll(w.help, "'", `\'`)
			if flag, ok := strings.CutPrefix(w.text, "--"); ok {
				fmt.Fprintf(&b, "complete -c leste -n '%s' -l %s -d '%s'\n", condition, flag, help)
			} else {
				fmt.Fprintf(&b, "complete -c leste -f -n '%s' -a %s -d '%s'\n", condition, w.text, help)
			}
		}
	}
	return b.String()
}

func topWords(list []completion) string {
	var top []string
	for _, w := range list[0].words {
		if !strings.HasPrefix(w.text, "--") {
			top = append(top, w.text)
		}
	}
	return strings.Join(top, " ")
}
