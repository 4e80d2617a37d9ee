package render

import (
	_ "embed"
	"html/template"
	"io"
	"strings"
)

//go:embed sheet.html
var sheetHTML string

// htmlSheet is read once: it comes with the program and cannot be wrong.
var htmlSheet = template.Must(template.New("sheet").Funcs(template.FuncMap{
	"citation": citation,
	"plain":    func(w Words) string { return strings.TrimSpace(w.Plain()) },
}).Parse(sheetHTML))

// HTML sets the sheet as one page that needs nothing else: no network, no scripts,
// no other files.
func (s *Sheet) HTML(w io.Writer) error { return htmlSheet.Execute(w, s) }
