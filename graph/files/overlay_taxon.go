package files

import (
	"maps"
	"slices"

	"telltale/graph"
)

func (o *overlay) taxa() {
	known := maps.Clone(o.known.taxa)
	for _, t := range o.taxonFiles() {
		id := t.file.ID.Text
		o.known.corrected[id] = known[id]
		read := t.page.taxon(t.file, o.known)
		o.namedOnce(t, read)
		i := slices.IndexFunc(o.k.Taxa, func(x *graph.Taxon) bool { return x.ID == id })
		if i < 0 {
			o.harmTold(t, read)
			o.k.Taxa = append(o.k.Taxa, read)
			o.adds("taxon", id, t.page.name)
			continue
		}
		merged, what := correct(o.k.Taxa[i], read)
		o.k.Taxa[i] = merged
		if len(what) > 0 {
			o.corrects("taxon", id, t.page.name, what...)
		}
	}
}

// namedOnce notes a plant that is known by another id already, and a genus in two
// families.
func (o *overlay) namedOnce(t taxonPage, read *graph.Taxon) {
	for _, x := range o.base.Taxa {
		switch {
		case x.ID == read.ID || read.Name == "":
		case x.Name == read.Name || slices.Contains(x.Synonyms, read.Name):
			t.page.add(t.file.Name, "%q is a name of %s, which is known: what you have to add or correct goes into taxa/%s.yaml", read.Name, x.ID, x.ID)
			return
		case x.Genus() == read.Genus() && read.Family != "" && x.Family != read.Family:
			t.page.add(t.file.Family, "%s is of the %s, and %s of the same genus of the %s", read.ID, read.Family, x.ID, x.Family)
			return
		}
	}
}

// harmTold notes a new plant of which nobody says what eating it does: it would
// count as harmless.
func (o *overlay) harmTold(t taxonPage, read *graph.Taxon) {
	told := func(e ToxicityEntry) bool {
		onSkin := e.Route.Text == graph.Skin || e.Route.Text == graph.SkinAndSun
		return !onSkin && (e.Severity.Text != "" || e.Irritant.Text == "") // what is wrong in it is noted elsewhere
	}
	if !slices.ContainsFunc(t.file.Toxicity, told) {
		t.page.add(t.file.ID, "it is not said what eating %s does: give toxicity by ingestion a severity, none_known if nobody knows of harm", read.ID)
	}
}

// correct lays what was read of a taxon over what is known of it, and tells what
// that changed.
func correct(known, read *graph.Taxon) (*graph.Taxon, []string) {
	out := *known
	var what []string
	text := func(to *string, from, name string) {
		if from != "" && from != *to {
			*to = from
			what = append(what, name)
		}
	}
	list := func(to *[]string, from []string, name string) {
		if len(from) > 0 && !slices.Equal(*to, from) {
			*to = from
			what = append(what, name)
		}
	}
	text(&out.Name, read.Name, "name")
	text(&out.Author, read.Author, "author")
	text(&out.Family, read.Family, "family")
	list(&out.Common, read.Common, "common names")
	list(&out.Synonyms, read.Synonyms, "synonyms")
	list(&out.Range, read.Range, "range")
	if len(read.Sources) > 0 {
		out.Sources = read.Sources
	}
	out.Statements, what = correctStatements(known.Statements, read.Statements, what)
	out.Overrules = kept(known.Overrules, read.Statements)
	for _, r := range read.Overrules {
		out.Overrules = slices.DeleteFunc(out.Overrules, func(x graph.Overrule) bool { return x.Trait == r.Trait })
		out.Overrules = append(out.Overrules, r)
		what = append(what, "whether "+r.Trait+" is told in full")
	}
	if len(read.Toxicity) > 0 {
		out.Toxicity = append(slices.Clone(known.Toxicity), read.Toxicity...)
		what = append(what, "toxicity")
	}
	if len(read.Uses) > 0 {
		out.Uses = append(slices.Clone(known.Uses), read.Uses...)
		what = append(what, "uses")
	}
	if len(read.Lookalikes) > 0 {
		out.Lookalikes = append(slices.Clone(known.Lookalikes), read.Lookalikes...)
		what = append(what, "lookalikes")
	}
	return &out, what
}

// kept gives what is said of whether statements are told in full, without the claim
// that they are where others now stand in their place: those may leave something
// out, and what is left out would count as impossible.
func kept(overrules []graph.Overrule, read []graph.Statement) []graph.Overrule {
	return slices.DeleteFunc(slices.Clone(overrules), func(o graph.Overrule) bool {
		return o.Exhaustive && slices.ContainsFunc(read, func(s graph.Statement) bool { return s.Trait == o.Trait })
	})
}

// correctStatements replaces all that is known of the traits that were read.
func correctStatements(known, read []graph.Statement, what []string) ([]graph.Statement, []string) {
	replaced := map[string]bool{}
	for i := range read {
		if t := read[i].Trait; !replaced[t] {
			replaced[t] = true
			what = append(what, t)
		}
	}
	out := slices.DeleteFunc(slices.Clone(known), func(s graph.Statement) bool { return replaced[s.Trait] })
	return append(out, read...), what
}
