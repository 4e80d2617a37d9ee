package exchange

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"slices"
	"strings"
	"testing"
)

// TestOccurrencesSpeakDarwinCore: the columns are terms of the standard's classes
// Record-level, Occurrence, Event, Location, Identification and Taxon (Wieczorek et
// al. 2012; https://dwc.tdwg.org/terms/), under which those not used here stand too.
func TestOccurrencesSpeakDarwinCore(t *testing.T) {
	terms := strings.Fields(`
		type modified language institutionID collectionID datasetID institutionCode collectionCode datasetName basisOfRecord informationWithheld
		dataGeneralizations dynamicProperties
		occurrenceID catalogNumber recordNumber recordedBy recordedByID individualCount organismQuantity sex lifeStage reproductiveCondition behavior
		vitality establishmentMeans degreeOfEstablishment pathway occurrenceStatus associatedMedia occurrenceRemarks
		eventID fieldNumber eventDate eventTime startDayOfYear endDayOfYear year month day verbatimEventDate habitat samplingProtocol fieldNotes eventRemarks
		locationID higherGeography continent country countryCode stateProvince county municipality locality verbatimLocality decimalLatitude decimalLongitude
		identificationID verbatimIdentification identificationQualifier typeStatus identifiedBy dateIdentified identificationVerificationStatus identificationRemarks
		taxonID scientificName kingdom phylum class order family genus specificEpithet infraspecificEpithet taxonRank scientificNameAuthorship vernacularName
		nomenclaturalCode taxonomicStatus taxonRemarks`)
	for _, term := range occurrenceTerms {
		if !slices.Contains(terms, term) {
			t.Errorf("%s is no term of Darwin Core", term)
		}
	}
}

// rowsWritten writes the observations and reads them back by the name of each term.
func rowsWritten(t *testing.T, named Identification, texts ...string) []map[string]string {
	t.Helper()
	k := made(t)
	var list []Occurrence
	for _, text := range texts {
		o, err := ReadOccurrence(k.Vocabulary, "seen.yaml", strings.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, o)
	}
	var b bytes.Buffer
	if err := WriteOccurrences(&b, k.Vocabulary, list, named); err != nil {
		t.Fatal(err)
	}
	table, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, row := range table[1:] {
		one := map[string]string{}
		for i, term := range table[0] {
			one[term] = row[i]
		}
		out = append(out, one)
	}
	return out
}

func TestOccurrenceTellsWhatWasSeenAndNoMore(t *testing.T) {
	dulcis, _ := made(t).Taxon("hortus-dulcis")
	for _, tt := range []struct {
		name  string
		named Identification
		text  string
		want  map[string]string
	}{
		{"hardly anything", Identification{}, "readings: {leaf.margin: entire}",
			map[string]string{"eventDate": "", "month": "", "lifeStage": "", "verbatimLocality": "", "dynamicProperties": `{"leaf.margin":"entire"}`}},
		{"a plant that nobody named", Identification{}, "readings: {leaf.margin: entire}",
			map[string]string{"scientificName": "Plantae", "kingdom": "Plantae", "genus": "", "identificationQualifier": "", "nomenclaturalCode": ""}},
		{"a plant that somebody named", Identification{Taxon: dulcis}, "readings: {leaf.margin: entire}",
			map[string]string{"scientificName": "Hortus dulcis (L.) Made", "genus": "Hortus", "specificEpithet": "dulcis", "identificationQualifier": ""}},
		{"a name in doubt", Identification{Taxon: dulcis, Qualifier: "aff."}, "readings: {leaf.margin: entire}",
			map[string]string{"scientificName": "Hortus dulcis (L.) Made", "identificationQualifier": "aff. dulcis"}},
		{"a day", Identification{}, "date: 2026-03-04\nreadings: {leaf.margin: entire}",
			map[string]string{"eventDate": "2026-03-04", "year": "2026", "month": "3", "day": "4"}},
		{"a month of some year", Identification{}, "month: May\nreadings: {leaf.margin: entire}", map[string]string{"eventDate": "", "year": "", "month": "5", "day": ""}},
		{"a stage", Identification{}, "stage: leafy_shoot\nreadings: {leaf.margin: entire}", map[string]string{"lifeStage": "leafy shoot", "reproductiveCondition": ""}},
		{"a plant in fruit", Identification{}, "stage: fruiting\nreadings: {leaf.margin: entire}", map[string]string{"lifeStage": "fruiting", "reproductiveCondition": "fruiting"}},
		{"what was looked for and not there, and what is not sure", Identification{}, "readings: {leaf.margin: \"!=serrate\", root.odour_root: \"sweet?\"}",
			map[string]string{"dynamicProperties": `{"leaf.margin":"!=serrate","root.odour_root":"sweet?"}`}},
		{"a measure in another unit", Identification{}, "readings: {leaf.length: 1 in}", map[string]string{"dynamicProperties": `{"leaf.length":"25.4 mm"}`}},
		{"JSON with tabs", Identification{}, "{\n\t\"date\": \"2026-03\",\n\t\"place\": \"the hill\",\n\t\"readings\": {\"leaf.margin\": \"entire\"}\n}",
			map[string]string{"eventDate": "2026-03", "month": "3", "day": "", "verbatimLocality": "the hill"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			row := rowsWritten(t, tt.named, tt.text)[0]
			for term, want := range tt.want {
				if row[term] != want {
					t.Errorf("%s is %q, want %q", term, row[term], want)
				}
			}
			if row["basisOfRecord"] != "HumanObservation" {
				t.Error("what somebody saw is a HumanObservation")
			}
		})
	}
}

func TestOccurrenceIsNamedByWhatItHolds(t *testing.T) {
	const one, other = "readings: {leaf.margin: entire}", "readings: {leaf.margin: serrate}"
	first := rowsWritten(t, Identification{}, one, other)
	again := rowsWritten(t, Identification{}, one)
	if first[0]["occurrenceID"] != again[0]["occurrenceID"] {
		t.Error("the same observation got two ids")
	}
	if first[0]["occurrenceID"] == first[1]["occurrenceID"] {
		t.Error("two observations got one id")
	}
}

func TestOneObservationTwiceIsRefused(t *testing.T) {
	k := made(t)
	o := seen(t, k, "walk.yaml")
	p := o
	p.file = "copy.yaml"
	var b bytes.Buffer
	err := WriteOccurrences(&b, k.Vocabulary, []Occurrence{o, p}, Identification{})
	if want := "copy.yaml: this is the same observation as walk.yaml: tell in one of them what differs, such as the place"; err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
	if b.Len() > 0 {
		t.Error("something was written all the same")
	}
}

func TestBrokenObservationIsRefused(t *testing.T) {
	for _, tt := range []struct{ name, text string }{
		{"nothing", ""},
		{"a day that is none", "date: 2026-02-31\nreadings: {leaf.margin: entire}"},
		{"a misspelt trait", "readings: {leaf.margn: entire}"},
		{"a stage of one's own", "stage: rosete\nreadings: {leaf.margin: entire}"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := ReadOccurrence(made(t).Vocabulary, "seen.yaml", strings.NewReader(tt.text))
			if err == nil || !strings.HasPrefix(err.Error(), "seen.yaml") {
				t.Errorf("got %v", err)
			}
		})
	}
}

func FuzzReadOccurrence(f *testing.F) {
	v := made(f).Vocabulary
	for _, s := range []string{"", "readings: {leaf.margin: entire}", "date: 2026-03-04\nplace: here\nreadings: {leaf.length: 2 cm}", `{"stage":"rosette","readings":{"leaf.margin":"!=serrate?"}}`, "place: [a]\n", "\ufeffdate: 2026"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		o, err := ReadOccurrence(v, "seen.yaml", bytes.NewReader(text))
		if err != nil {
			return
		}
		var b bytes.Buffer
		if err := WriteOccurrences(&b, v, []Occurrence{o}, Identification{}); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&b).ReadAll()
		if err != nil || len(rows) != 2 {
			t.Fatalf("%d rows: %v", len(rows), err)
		}
		properties := rows[1][slices.Index(occurrenceTerms, "dynamicProperties")]
		if !json.Valid([]byte(properties)) {
			t.Fatalf("dynamicProperties is no JSON: %s", properties)
		}
	})
}
