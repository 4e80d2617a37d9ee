package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"telltale/cmd/telltale/render"
	"telltale/graph"
	"telltale/graph/names"
	"telltale/rules/reason"
)

func newTaxon() *cobra.Command {
	return group("taxon", "What is known of a plant, and what plants are known", newTaxonShow(), newTaxonList(), newTaxonFind())
}

const aboutTaxonShow = `Shows all that is known of a plant, each statement with its sources: names,
range, what it does to people, uses, lookalikes, and what it shows of each trait.
What no publication stands behind says that it is from memory.

With --why it gives the sources in full of one trait, of toxicity or of uses, and
says where they differ.

PLANT is an id, a scientific name with or without its authors, a synonym or a
common name.`

func newTaxonShow() *cobra.Command {
	var why []string
	cmd := &cobra.Command{
		Use:   "show PLANT",
		Short: "What is known of a plant, and who says so",
		Long:  aboutTaxonShow,
		Example: `  telltale taxon show conium-maculatum
  telltale taxon show "Daucus carota L." --why stem.surface
  telltale taxon show "wild garlic" --why toxicity --why uses
  telltale taxon show elder --format html > elder.html`,
		Args:              needs("a plant"),
		ValidArgsFunction: completeTaxon,
	}
	f := documentFlag(cmd)
	cmd.Flags().StringArrayVar(&why, "why", nil, "the sources in full of a trait, of toxicity or of uses (repeatable)")
	_ = cmd.RegisterFlagCompletionFunc("why", completeWhy)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		k, err := openKnowledge(cmd)
		if err != nil {
			return err
		}
		t, err := findTaxon(k, strings.Join(args, " "))
		if err != nil {
			return err
		}
		if len(why) == 0 {
			return f.write(cmd, render.TaxonSheet(k, t), render.TaxonJSON(k, t))
		}
		asked, err := whys(k, t, why)
		if err != nil {
			return err
		}
		return f.write(cmd, render.WhySheet(k, t, asked), render.WhyJSON(k, t, asked))
	}
	return cmd
}

// whys puts together what the sources are asked of, each with where they differ.
func whys(k *graph.Knowledge, t *graph.Taxon, about []string) ([]render.Why, error) {
	var out []render.Why
	var problems graph.Problems
	for _, name := range about {
		switch strings.ToLower(name) {
		case render.WhyToxicity:
			out = append(out, render.Why{About: render.WhyToxicity, HarmDisputes: reason.HarmDisputes(t), UseDisputes: reason.UseDisputes(t)})
			continue
		case render.WhyUses:
			out = append(out, render.Why{About: render.WhyUses, UseDisputes: reason.UseDisputes(t)})
			continue
		}
		trait, problem := findTrait(k.Vocabulary, name, render.WhyToxicity, render.WhyUses)
		if problem != nil {
			problems = append(problems, problem)
			continue
		}
		out = append(out, render.Why{Trait: trait, Disputes: reason.Disputes(t, trait)})
	}
	return out, problems.Err()
}

// findTaxon finds the plant of a name: an id, a scientific name with or without
// authors, a synonym or a common name.
func findTaxon(k *graph.Knowledge, name string) (*graph.Taxon, error) {
	t, err := k.FindTaxon(name)
	if err == nil {
		return t, nil
	}
	index := nameIndex(k)
	exact := index.Exactly(name)
	var problem *graph.Problem
	switch {
	case len(exact) == 1 && exact[0].Qualifier == names.Akin:
		return nil, fmt.Errorf("%q is another plant near %s, of which nothing is known here: aff. says so", name, exact[0].Name)
	case len(exact) == 1:
		t, _ := k.Taxon(exact[0].ID)
		return t, nil
	case len(exact) > 1 || !errors.As(err, &problem):
		return nil, err
	}
	if found := index.Find(name); len(found) > 0 && problem.Nearest == "" {
		problem.Nearest = found[0].Name
	}
	return nil, err
}

// nameIndex takes in what the plants are called.
func nameIndex(k *graph.Knowledge) *names.Index {
	plants := make([]names.Plant, len(k.Taxa))
	for i, t := range k.Taxa {
		plants[i] = names.Plant{ID: t.ID, Accepted: strings.TrimSpace(t.Name + " " + t.Author), Synonyms: t.Synonyms, Common: t.Common}
	}
	return names.NewIndex(plants)
}

func newTaxonList() *cobra.Command {
	var family, genus string
	var poisonous, studied bool
	cmd := &cobra.Command{
		Use:   "list",
		Short: "The plants that are known",
		Example: `  telltale taxon list --family Apiaceae --poisonous
  telltale taxon list --studied --format markdown`,
		Args:              cobra.NoArgs,
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	f := documentFlag(cmd)
	cmd.Flags().StringVar(&family, "family", "", "only of this family")
	cmd.Flags().StringVar(&genus, "genus", "", "only of this genus")
	cmd.Flags().BoolVar(&poisonous, "poisonous", false, "only those deadly or serious to eat")
	cmd.Flags().BoolVar(&studied, "studied", false, "only those worked up for gathering")
	_ = cmd.RegisterFlagCompletionFunc("family", completeOf(families))
	_ = cmd.RegisterFlagCompletionFunc("genus", completeOf(genera))
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		k, err := openKnowledge(cmd)
		if err != nil {
			return err
		}
		var problems graph.Problems
		knownName(&problems, "--family", "family", &family, families(k))
		knownName(&problems, "--genus", "genus", &genus, genera(k))
		if err := problems.Err(); err != nil {
			return err
		}
		var taxa []*graph.Taxon
		for _, t := range k.Taxa {
			_, worked := k.Study(t.ID)
			if (family == "" || t.Family == family) && (genus == "" || t.Genus() == genus) && (!poisonous || t.Poisonous()) && (!studied || worked) {
				taxa = append(taxa, t)
			}
		}
		return f.write(cmd, render.TaxaSheet(k, taxa), render.TaxaJSON(k, taxa))
	}
	return cmd
}

func families(k *graph.Knowledge) []string {
	return distinct(k.Taxa, func(t *graph.Taxon) string { return t.Family })
}

func genera(k *graph.Knowledge) []string {
	return distinct(k.Taxa, (*graph.Taxon).Genus)
}

// distinct lists what something gives, each once, in the order of the alphabet.
func distinct[T any](all []T, of func(T) string) []string {
	var out []string
	for _, x := range all {
		if name := of(x); name != "" && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	slices.Sort(out)
	return out
}

// knownName finds the name as it is written here, whatever capitals it was typed
// with, and notes the problem of one that is not known.
func knownName(problems *graph.Problems, flag, what string, typed *string, known []string) {
	if *typed == "" {
		return
	}
	for _, name := range known {
		if strings.EqualFold(name, *typed) {
			*typed = name
			return
		}
	}
	problems.AddUnknown(graph.Place{File: flag}, what, *typed, known)
}

const aboutTaxonFind = `Finds plants by a scientific name, a synonym or a common name, or some words of
one, with some letters wrong, and says why each was found. The surest come first.`

func newTaxonFind() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "find WORDS",
		Short: "Which plant a name can mean",
		Long:  aboutTaxonFind,
		Example: `  telltale taxon find hemlok
  telltale taxon find "Chrysanthemum vulgare (L.) Bernh."
  telltale taxon find Heracleum sp.`,
		Args:              needs("a name, or some words of one"),
		ValidArgsFunction: completeTaxon,
	}
	f := documentFlag(cmd)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		k, err := openKnowledge(cmd)
		if err != nil {
			return err
		}
		asked := strings.Join(args, " ")
		found := nameIndex(k).Find(asked)
		if len(found) == 0 {
			if _, err := findTaxon(k, asked); err != nil {
				return err
			}
		}
		return f.write(cmd, render.MatchesSheet(k, asked, found), render.MatchesJSON(k, found))
	}
	return cmd
}
