package exchange

import (
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml"

	"telltale/graph"
	"telltale/graph/files"
)

// Occurrence is an observation told so that others can use it.
type Occurrence struct {
	ID          string // of the observation: the same file has the same
	Observation graph.Observation
	Date        string // ISO 8601: a year, a month or a day
	Place       string // as the observer words it
	file        string
}

// Identification is what somebody takes the observed plants for. The zero value
// says that nobody did.
type Identification struct {
	Taxon *graph.Taxon
	// Qualifier is the mark of doubt that stands before the epithet: cf. or aff.
	Qualifier string
}

// maxObservation is how large an observation file may be: one plant takes some
// hundred bytes (common practice, no source).
const maxObservation = 8 << 20

// ReadOccurrence reads an observation file; name is what problems call it.
func ReadOccurrence(v *graph.Vocabulary, name string, r io.Reader) (Occurrence, error) {
	text, err := io.ReadAll(&limited{r: r, left: maxObservation})
	if err != nil {
		return Occurrence{}, &graph.Problem{Place: graph.Place{File: name}, Message: "cannot be read: " + err.Error()}
	}
	obs, err := files.ParseObservation(v, name, text)
	if err != nil {
		return Occurrence{}, err
	}
	// The reader of observations has checked the file, and keeps neither the date,
	// of which it takes the month, nor the place.
	var told struct {
		Date  string `yaml:"date"`
		Place string `yaml:"place"`
	}
	if err := yaml.Unmarshal(untabbed(text), &told); err != nil {
		return Occurrence{}, &graph.Problem{Place: graph.Place{File: name}, Message: yaml.FormatError(err, false, false)}
	}
	sum := sha256.Sum256(text)
	return Occurrence{
		ID: Base + "observation/" + hex.EncodeToString(sum[:16]), Observation: obs,
		Date: strings.TrimSpace(told.Date), Place: strings.TrimSpace(told.Place), file: name,
	}, nil
}

// untabbed makes of JSON what the YAML library reads.
func untabbed(text []byte) []byte {
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	if json.Valid(text) {
		return bytes.ReplaceAll(text, []byte("\t"), []byte(" "))
	}
	return text
}

// datePattern are the dates of ISO 8601 that an observation can have.
var datePattern = regexp.MustCompile(`^(\d{4})(?:-(\d{2})(?:-(\d{2}))?)?$`)

func (o *Occurrence) dateParts() (year, month, day string) {
	m := datePattern.FindStringSubmatch(o.Date)
	if m == nil {
		return "", "", ""
	}
	return m[1], m[2], m[3]
}

// occurrenceTerms are the columns of the occurrences. All are terms of Darwin Core
// (Wieczorek et al. 2012, PLoS ONE 7(1): e29715; terms at
// http://rs.tdwg.org/dwc/terms/), and mean what they mean there.
var occurrenceTerms = []string{
	"occurrenceID", "basisOfRecord", "occurrenceStatus", "lifeStage", "reproductiveCondition",
	"eventDate", "year", "month", "day", "verbatimLocality",
	"kingdom", "family", "genus", "specificEpithet", "scientificName", "scientificNameAuthorship", "vernacularName",
	"identificationQualifier", "nomenclaturalCode", "dynamicProperties",
}

// WriteOccurrences writes the occurrences as Simple Darwin Core in CSV, all as what
// somebody takes them for. A plant that nobody has named is a plant: Plantae. The
// readings stand in dynamicProperties as JSON. Two files that hold the very same
// observation are refused, since they would have one occurrenceID.
func WriteOccurrences(w io.Writer, v *graph.Vocabulary, list []Occurrence, named Identification) error {
	rows := [][]string{occurrenceTerms}
	file := map[string]string{}
	for i := range list {
		o := &list[i]
		if other, taken := file[o.ID]; taken {
			return &graph.Problem{Place: graph.Place{File: o.file}, Message: fmt.Sprintf("this is the same observation as %s: tell in one of them what differs, such as the place", other)}
		}
		file[o.ID] = o.file
		terms, err := o.terms(v, named)
		if err != nil {
			return err
		}
		row := make([]string, len(occurrenceTerms))
		for j, t := range occurrenceTerms {
			row[j] = terms[t]
		}
		rows = append(rows, row)
	}
	if err := csv.NewWriter(w).WriteAll(rows); err != nil {
		return fmt.Errorf("writing the occurrences: %w", err)
	}
	return nil
}

func (o *Occurrence) terms(v *graph.Vocabulary, named Identification) (map[string]string, error) {
	properties, err := o.properties(v)
	if err != nil {
		return nil, err
	}
	year, month, day := o.dateParts()
	if month == "" && o.Observation.Month != 0 {
		month = strconv.Itoa(o.Observation.Month)
	}
	out := map[string]string{
		"occurrenceID": o.ID, "basisOfRecord": "HumanObservation", "occurrenceStatus": "present",
		"eventDate": o.Date, "year": year, "month": strings.TrimPrefix(month, "0"), "day": strings.TrimPrefix(day, "0"),
		"verbatimLocality": o.Place, "kingdom": "Plantae", "scientificName": "Plantae", "dynamicProperties": properties,
	}
	if stage := o.Observation.Stage; stage != graph.AnyStage {
		out["lifeStage"] = stage.Words()
		out["reproductiveCondition"] = reproductive[stage]
	}
	named.terms(out)
	return out, nil
}

// reproductive gives the reproductive condition that a stage of growth is one of.
var reproductive = map[graph.Stage]string{graph.Flowering: "flowering", graph.Fruiting: "fruiting"}

func (n Identification) terms(out map[string]string) {
	t := n.Taxon
	if t == nil {
		return
	}
	genus, epithets, _ := strings.Cut(t.Name, " ")
	out["family"], out["genus"] = t.Family, genus
	out["specificEpithet"], _, _ = strings.Cut(epithets, " ")
	out["scientificName"] = strings.TrimSpace(t.Name + " " + t.Author)
	out["scientificNameAuthorship"], out["nomenclaturalCode"] = t.Author, "ICN"
	if len(t.Common) > 0 {
		out["vernacularName"] = t.Common[0]
	}
	if n.Qualifier != "" {
		out["identificationQualifier"] = n.Qualifier + " " + epithets
	}
}

// properties writes the readings as JSON, each by its trait and position, in the
// order in which they were told. A trait that was read twice has a list.
func (o *Occurrence) properties(v *graph.Vocabulary) (string, error) {
	var names []string
	values := map[string][]string{}
	put := func(name, value string) {
		if values[name] == nil {
			names = append(names, name)
		}
		values[name] = append(values[name], value)
	}
	if o.Observation.Part != "" {
		put("part", o.Observation.Part)
	}
	for i := range o.Observation.Readings {
		put(notation(&o.Observation.Readings[i], v))
	}
	var fields []string
	for _, name := range names {
		var value any = values[name]
		if len(values[name]) == 1 {
			value = values[name][0]
		}
		key, err := json.Marshal(name)
		if err != nil {
			return "", err
		}
		text, err := json.Marshal(value)
		if err != nil {
			return "", err
		}
		fields = append(fields, string(key)+":"+string(text))
	}
	return "{" + strings.Join(fields, ",") + "}", nil
}

// notation parts a reading, as the command line takes it, into what stands before
// the sign and behind it; what was looked for and not there keeps its sign.
func notation(r *graph.Reading, v *graph.Vocabulary) (name, value string) {
	name, value, _ = strings.Cut(r.Notation(v), "=")
	if trait, negated := strings.CutSuffix(name, "!"); negated {
		return trait, "!=" + value
	}
	return name, value
}
