package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"telltale/cmd/telltale/render"
	"telltale/graph"
	"telltale/graph/matrix"
	"telltale/rules/reason"
)

func newStudy() *cobra.Command {
	return group("study", "The herbs that are worked up for gathering", newStudyShow(), newStudyList(), newStudyNew(), newStudyCheck())
}

const aboutStudyShow = `Shows the study of a herb: what is gathered when, what has to be seen for sure on
each plant and why, when to leave it, what to say to those who gather, and its
matrix: what is stated of the herb and of each lookalike, trait by trait.`

func newStudyShow() *cobra.Command {
	var stage string
	var parting bool
	cmd := &cobra.Command{
		Use:   "show PLANT",
		Short: "A herb's study, beside its lookalikes",
		Long:  aboutStudyShow,
		Example: `  telltale study show allium-ursinum --stage leafy_shoot --parting
  telltale study show "wild carrot" --format html > wild-carrot.html`,
		Args:              needs("a plant"),
		ValidArgsFunction: completeStudy,
	}
	f := documentFlag(cmd)
	cmd.Flags().StringVar(&stage, "stage", "", "the matrix at this stage only")
	cmd.Flags().BoolVar(&parting, "parting", false, "in the matrix only traits that part a lookalike from the herb")
	_ = cmd.RegisterFlagCompletionFunc("stage", cobra.FixedCompletions(graph.StageNames(), cobra.ShellCompDirectiveNoFileComp))
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		k, err := openKnowledge(cmd)
		if err != nil {
			return err
		}
		var problems graph.Problems
		at := stageTold(&problems, stage)
		if err := problems.Err(); err != nil {
			return err
		}
		herb, study, err := findStudy(k, strings.Join(args, " "))
		if err != nil {
			return err
		}
		m := herbMatrix(matrix.Compile(k), herb, study, at, parting)
		rules := rulesAbout(k, herb.ID)
		return f.write(cmd, render.StudySheet(k, herb, study, rules, m), render.StudyJSON(k, herb, study, rules, m))
	}
	return cmd
}

// findStudy finds a herb and its study.
func findStudy(k *graph.Knowledge, name string) (*graph.Taxon, *graph.Study, error) {
	t, err := findTaxon(k, name)
	if err != nil {
		return nil, nil, err
	}
	study, ok := k.Study(t.ID)
	if !ok {
		p := graph.Unknown(graph.Place{File: fmt.Sprintf("study %q", name)}, "study of", t.ID, studied(k))
		return nil, nil, p
	}
	return t, study, nil
}

func studied(k *graph.Knowledge) []string {
	out := make([]string, len(k.Studies))
	for i, s := range k.Studies {
		out[i] = s.Taxon
	}
	return out
}

// rulesAbout lists the rules about a herb, its study's first.
func rulesAbout(k *graph.Knowledge, herb string) []*graph.Rule {
	var out []*graph.Rule
	if study, ok := k.Study(herb); ok {
		out = append(out, study.Leave...)
	}
	for _, r := range k.Rules {
		if r.For == herb {
			out = append(out, r)
		}
	}
	return out
}

// herbMatrix lays the herb beside the plants it is linked to, the worst poison
// first, trait by trait, at one stage or at all. A trait that nothing is stated of is
// left out.
func herbMatrix(m *matrix.Matrix, herb *graph.Taxon, study *graph.Study, at graph.Stage, parting bool) *render.Matrix {
	k := m.Knowledge
	out := &render.Matrix{Stage: at, Plants: []*graph.Taxon{herb}}
	for _, l := range k.LinksOf(herb.ID) {
		if other, ok := k.Taxon(l.Other); ok && !slices.Contains(out.Plants, other) {
			out.Plants = append(out.Plants, other)
		}
	}
	slices.SortFunc(out.Plants[1:], func(a, b *graph.Taxon) int {
		return cmp.Or(cmp.Compare(b.Severity(), a.Severity()), cmp.Compare(a.ID, b.ID))
	})
	parts := partedAt(m, out.Plants, stagesOf(study, at), reason.ConstantDifference)
	usually := partedAt(m, out.Plants, stagesOf(study, at), reason.UsualDifference)
	for i, t := range k.Vocabulary.Traits {
		if !t.Visible(at) {
			continue
		}
		row := render.MatrixRow{Trait: t}
		stated, parted := false, false
		for j, plant := range out.Plants {
			c := render.MatrixCell{Statements: statedAt(m.Statements(m.TaxonIndex(plant.ID), i), at), Parts: parts[j][t.ID], Usually: usually[j][t.ID]}
			stated = stated || len(c.Statements) > 0
			parted = parted || c.Parts|c.Usually != 0
			row.Cells = append(row.Cells, c)
		}
		if stated && (parted || !parting) {
			out.Rows = append(out.Rows, row)
		}
	}
	return out
}

// stagesOf lists the stage that was told, or those at which the herb is gathered.
func stagesOf(study *graph.Study, at graph.Stage) []graph.Stage {
	if at != graph.AnyStage {
		return []graph.Stage{at}
	}
	var all graph.StageSet
	for _, g := range study.Gather {
		all |= g.Stages
	}
	return all.List()
}

// partedAt finds for each plant the traits that part it from the first in this way,
// with the stages at which they do.
func partedAt(m *matrix.Matrix, plants []*graph.Taxon, stages []graph.Stage, how reason.Parting) []map[string]graph.StageSet {
	out := []map[string]graph.StageSet{nil}
	herb := m.TaxonIndex(plants[0].ID)
	for _, plant := range plants[1:] {
		parts := map[string]graph.StageSet{}
		for _, stage := range stages {
			for _, d := range reason.Apart(m, herb, m.TaxonIndex(plant.ID), stage) {
				if d.How == how {
					parts[d.Trait.ID] |= graph.StagesOf(stage)
				}
			}
		}
		out = append(out, parts)
	}
	return out
}

func statedAt(all []*graph.Statement, at graph.Stage) []*graph.Statement {
	var out []*graph.Statement
	for _, s := range all {
		if at == graph.AnyStage || s.At(at) {
			out = append(out, s)
		}
	}
	return out
}

func newStudyList() *cobra.Command {
	cmd := &cobra.Command{
		Use:               "list",
		Short:             "The herbs that are worked up: what is gathered when",
		Example:           `  telltale study list --format json`,
		Args:              cobra.NoArgs,
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	f := documentFlag(cmd)
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		k, err := openKnowledge(cmd)
		if err != nil {
			return err
		}
		var rows []render.StudyRow
		for _, s := range k.Studies {
			if t, ok := k.Taxon(s.Taxon); ok {
				rows = append(rows, render.StudyRow{Taxon: t, Study: s})
			}
		}
		return f.write(cmd, render.StudiesSheet(rows), render.StudiesJSON(rows))
	}
	return cmd
}
