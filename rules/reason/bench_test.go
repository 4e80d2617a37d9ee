package reason

import "testing"

// A lily of the valley read in full, weighed against every plant shipped.
func BenchmarkWeigh(b *testing.B) {
	r := reasonerShipped(b)
	obs := typicalPlant(b, r, "convallaria-majalis", "leafy_shoot")
	for b.Loop() {
		if _, err := r.Weigh(obs); err != nil {
			b.Fatal(err)
		}
	}
}

// The same asked as wild garlic, with what to look at next.
func BenchmarkMayGather(b *testing.B) {
	r := reasonerShipped(b)
	obs := typicalPlant(b, r, "convallaria-majalis", "leafy_shoot", "plant.odour_crushed=onion_garlic")
	obs.Part = "leaf"
	herb, _ := r.Matrix.Knowledge.Taxon("allium-ursinum")
	for b.Loop() {
		if _, err := r.MayGather(herb, obs); err != nil {
			b.Fatal(err)
		}
	}
}

// Everything a start of the program makes of the knowledge it has read.
func BenchmarkNew(b *testing.B) {
	k := reasonerShipped(b).Matrix.Knowledge
	for b.Loop() {
		if _, err := New(k); err != nil {
			b.Fatal(err)
		}
	}
}
