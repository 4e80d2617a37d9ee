package main

import (
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/agnivade/levenshtein"
	"github.com/spf13/cobra"

	"telltale/cmd/telltale/render"
	"telltale/graph"
	"telltale/graph/author"
	"telltale/graph/files"
	"telltale/graph/matrix"
	"telltale/rules/reason"
)

const aboutStudyNew = `Lays out the files in which you work up a herb, in a folder of your own: one for
each plant that is not known yet, with every useful trait as a question to fill
in, one for the study, one for rules of thumb, one for your sources, and schemas
with which an editor completes and checks while you type. The lookalikes named
are linked to the herb. Files that are there are left as they are. The folder is
the first one given with --data (or the first of TELLTALE_DATA); afterwards every
command that is given --data knows your herb.

PLANT and the lookalikes are scientific names, or any name of a plant that is
known. To correct a fact of a plant that is known, put its id and that trait
alone into taxa/ID.yaml of your folder: it takes the place of what is known.`

func newStudyNew() *cobra.Command {
	var lookalikes []string
	cmd := &cobra.Command{
		Use:   "new PLANT",
		Short: "Lay out the files in which you work up a herb",
		Long:  aboutStudyNew,
		Example: `  telltale study new "Rumex sanguineus" --lookalike "Rumex crispus" --lookalike lords-and-ladies --data mine
  telltale study check rumex-sanguineus --data mine`,
		Args:              needs("a plant"),
		ValidArgsFunction: completeTaxon,
	}
	cmd.Flags().StringArrayVar(&lookalikes, "lookalike", nil, "a plant it is confused with; one that is not known gets a file too (repeatable)")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		dirs := ownData(cmd)
		if len(dirs) == 0 {
			return fmt.Errorf("no folder of your own is named: give --data FOLDER, and the files are laid out there")
		}
		k, err := openBeside(cmd, dirs)
		if err != nil {
			return err
		}
		l := &author.Layout{Dir: dirs[0], Knowledge: k}
		if l.Herb, err = knownOrNew(k, strings.Join(args, " "), l); err != nil {
			return err
		}
		for _, name := range lookalikes {
			other, err := knownOrNew(k, name, l)
			if err != nil {
				return err
			}
			l.Lookalikes = append(l.Lookalikes, other)
		}
		l.Marks = marks(k, l.Herb, l.Lookalikes)
		done, err := l.Write()
		if err != nil {
			return err
		}
		return render.LaidOut(render.To(cmd.OutOrStdout()), l, done, nearNames(k, l.New))
	}
	return cmd
}

// openBeside opens the knowledge with the own data that is there already; folders
// that are still to be made, or to be filled, are none.
func openBeside(cmd *cobra.Command, dirs []string) (*graph.Knowledge, error) {
	return openWith(cmd, slices.DeleteFunc(slices.Clone(dirs), func(dir string) bool {
		_, err := os.Stat(dir)
		return os.IsNotExist(err) || err == nil && !files.HasData(os.DirFS(dir))
	}))
}

// knownOrNew finds a plant, or makes one that is laid out too.
func knownOrNew(k *graph.Knowledge, name string, l *author.Layout) (*graph.Taxon, error) {
	if t, err := findTaxon(k, name); err == nil {
		return t, nil
	}
	fresh, err := author.NewTaxon(name)
	if err != nil {
		return nil, err
	}
	if i := slices.IndexFunc(l.New, func(x *graph.Taxon) bool { return x.ID == fresh.ID }); i >= 0 {
		return l.New[i], nil
	}
	if known, taken := k.Taxon(fresh.ID); taken {
		return nil, fmt.Errorf("%q would have the id %s, which is that of %s", name, fresh.ID, known.Name)
	}
	l.New = append(l.New, fresh)
	return fresh, nil
}

// slipsInAName is how many letters of a name are taken for slips (common practice,
// no source).
const slipsInAName = 2

// nearNames finds for each new plant a known one whose name is nearly the same:
// the new one could be a misspelling.
func nearNames(k *graph.Knowledge, fresh []*graph.Taxon) map[*graph.Taxon]*graph.Taxon {
	out := map[*graph.Taxon]*graph.Taxon{}
	for _, t := range fresh {
		for _, known := range k.Taxa {
			for _, name := range append([]string{known.Name}, known.Synonyms...) {
				if levenshtein.ComputeDistance(t.Name, name) <= slipsInAName {
					out[t] = known
				}
			}
		}
	}
	return out
}

// marks lists the traits that part the herb constantly from lookalikes, linked or
// named, those that part it from most first.
func marks(k *graph.Knowledge, herb *graph.Taxon, named []*graph.Taxon) []author.Mark {
	m := matrix.Compile(k)
	row := m.TaxonIndex(herb.ID)
	if row < 0 {
		return nil
	}
	others := map[string]bool{}
	for _, l := range k.LinksOf(herb.ID) {
		others[l.Other] = true
	}
	for _, t := range named {
		others[t.ID] = m.TaxonIndex(t.ID) >= 0
	}
	var out []author.Mark
	for trait, t := range k.Vocabulary.Traits {
		mark := author.Mark{Trait: t.ID}
		for _, stage := range graph.Stages() {
			for _, id := range k.TaxonIDs() {
				if others[id] && !slices.Contains(mark.Parts, id) && reason.PartsConstantly(m, trait, row, m.TaxonIndex(id), stage) {
					mark.Parts = append(mark.Parts, id)
				}
			}
			if r, ok := reason.Typical(m, row, trait, stage); ok && len(mark.States) == 0 {
				mark.States = r.States
			}
		}
		if len(mark.Parts) > 0 && len(mark.States) > 0 {
			out = append(out, mark)
		}
	}
	slices.SortStableFunc(out, func(a, b author.Mark) int { return len(b.Parts) - len(a.Parts) })
	return out[:min(len(out), offeredMarks)]
}

// offeredMarks is how many checks a form offers: a study has three to six
// (common practice, no source).
const offeredMarks = 8
