package paper

import (
	"archive/zip"
	"bytes"
	"fmt"
	"html"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Workbook writes schedules as a spreadsheet file (ECMA-376, SpreadsheetML): one sheet each, with real numbers, a
// filter
// on every column, frozen headings, and a print area with the headings on every page. The same schedules give the same
// bytes. It errs only when the archive cannot be written.
func Workbook(all []Schedule) ([]byte, error) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	parts := [][2]string{
		{"[Content_Types].xml", contentTypes(len(all))},
		{"_rels/.rels", packageLinks},
		{"xl/workbook.xml", workbookPart(all)},
		{"xl/_rels/workbook.xml.rels", workbookLinks(len(all))},
		{"xl/styles.xml", stylesPart()},
	}
	for i, s := range all {
		parts = append(parts, [2]string{fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1), sheetPart(s)})
	}
	for _, p := range parts {
		f, err := z.CreateHeader(&zip.FileHeader{Name: p[0], Method: zip.Deflate})
		if err == nil {
			_, err = f.Write([]byte(p[1]))
		}
		if err != nil {
			return nil, fmt.Errorf("the workbook could not be written: %w", err)
		}
	}
	if err := z.Close(); err != nil {
		return nil, fmt.Errorf("the workbook could not be written: %w", err)
	}
	return b.Bytes(), nil
}

const (
	xmlHead      = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n"
	spreadsheet  = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
	office       = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	packages     = "http://schemas.openxmlformats.org/package/2006"
	sheetml      = "application/vnd.openxmlformats-officedocument.spreadsheetml"
	packageLinks = xmlHead + `<Relationships xmlns="` + packages + `/relationships"><Relationship Id="rId1" Type="` + office +
		`/officeDocument" Target="xl/workbook.xml"/></Relationships>`
)

func contentTypes(sheets int) string {
	var b strings.Builder
	b.WriteString(xmlHead + `<Types xmlns="` + packages + `/content-types">` +
		`<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
		`<Default Extension="xml" ContentType="application/xml"/>` +
		`<Override PartName="/xl/workbook.xml" ContentType="` + sheetml + `.sheet.main+xml"/>` +
		`<Override PartName="/xl/styles.xml" ContentType="` + sheetml + `.styles+xml"/>`)
	for i := range sheets {
		fmt.Fprintf(&b, `<Override PartName="/xl/worksheets/sheet%d.xml" ContentType="%s.worksheet+xml"/>`, i+1,
			sheetml)
	}
	return b.String() + `</Types>`
}

func workbookLinks(sheets int) string {
	var b strings.Builder
	b.WriteString(xmlHead + `<Relationships xmlns="` + packages + `/relationships">`)
	for i := range sheets {
		fmt.Fprintf(&b, `<Relationship Id="rId%d" Type="%s/worksheet" Target="worksheets/sheet%d.xml"/>`, i+1, office,
			i+1)
	}
	fmt.Fprintf(&b, `<Relationship Id="rId%d" Type="%s/styles" Target="styles.xml"/>`, sheets+1, office)
	return b.String() + `</Relationships>`
}

// workbookPart names the sheets, and for each what is filtered, printed, and repeated on every page.
func workbookPart(all []Schedule) string {
	var b, names strings.Builder
	b.WriteString(xmlHead + `<workbook xmlns="` + spreadsheet + `" xmlns:r="` + office + `"><sheets>`)
	for i, s := range all {
		fmt.Fprintf(&b, `<sheet name="%s" sheetId="%d" r:id="rId%d"/>`, html.EscapeString(s.Name), i+1, i+1)
		end := cellName(len(s.Columns)-1, len(s.Rows)+1, true)
		area := fmt.Sprintf("'%s'!$A$1:%s", html.EscapeString(s.Name), end)
		fmt.Fprintf(&names, `<definedName name="_xlnm._FilterDatabase" localSheetId="%d" hidden="1">%s</definedName>`,
			i, area)
		fmt.Fprintf(&names, `<definedName name="_xlnm.Print_Area" localSheetId="%d">%s</definedName>`, i, area)
		fmt.Fprintf(&names, `<definedName name="_xlnm.Print_Titles" localSheetId="%d">'%s'!$1:$1</definedName>`, i,
			html.EscapeString(s.Name))
	}
	return b.String() + `</sheets><definedNames>` + names.String() + `</definedNames></workbook>`
}

// The styles of cells: 0 text, 1 heading, then figures with 0 to 3 decimals.
const (
	styleText    = 0
	styleHead    = 1
	styleFigures = 2
	mostDecimals = 3
)

func stylesPart() string {
	var formats, cells strings.Builder
	for d := range mostDecimals + 1 {
		code := "0"
		if d > 0 {
			code += "." + strings.Repeat("0", d)
		}
		fmt.Fprintf(&formats, `<numFmt numFmtId="%d" formatCode="%s"/>`, 164+d, code)
		fmt.Fprintf(&cells, `<xf numFmtId="%d" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1" applyAlignment="1">`+
			`<alignment vertical="top"/></xf>`, 164+d)
	}
	return xmlHead + `<styleSheet xmlns="` + spreadsheet + `"><numFmts count="` + strconv.Itoa(mostDecimals+1) + `">` +
		formats.String() + `</numFmts>` +
		`<fonts count="2"><font><sz val="10"/><name val="DejaVu Sans"/></font><font><b/><sz val="10"/><name val="DejaVu Sans"/></font></fonts>` +
		`<fills count="3"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill>` +
		`<fill><patternFill patternType="solid"><fgColor rgb="FFF0F0ED"/></patternFill></fill></fills>` +
		`<borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>` +
		`<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>` +
		`<cellXfs count="` + strconv.Itoa(styleFigures+mostDecimals+1) + `">` +
		`<xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0" applyAlignment="1"><alignment vertical="top" wrapText="1"/></xf>` +
		`<xf numFmtId="0" fontId="1" fillId="2" borderId="0" xfId="0" applyFont="1" applyFill="1" applyAlignment="1">` +
		`<alignment vertical="center" wrapText="1"/></xf>` + cells.String() + `</cellXfs>` +
		`<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>`
}

// sheetPart is one schedule: landscape, as wide as the page.
func sheetPart(s Schedule) string {
	var b strings.Builder
	area := "A1:" + cellName(len(s.Columns)-1, len(s.Rows)+1, false)
	b.WriteString(xmlHead + `<worksheet xmlns="` + spreadsheet +
		`"><sheetPr><pageSetUpPr fitToPage="1"/></sheetPr><dimension ref="` + area + `"/>` +
		`<sheetViews><sheetView workbookViewId="0"><pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/></sheetView></sheetViews>` +
		`<cols>`)
	for i, c := range s.Columns {
		fmt.Fprintf(&b, `<col min="%d" max="%d" width="%d" customWidth="1"/>`, i+1, i+1, s.letters(i, c))
	}
	b.WriteString(`</cols><sheetData><row r="1">`)
	for i, c := range s.Columns {
		textCell(&b, cellName(i, 1, false), c.Head(), styleHead)
	}
	b.WriteString(`</row>`)
	for k, r := range s.Rows {
		fmt.Fprintf(&b, `<row r="%d">`, k+2)
		for i, x := range r {
			switch name := cellName(i, k+2, false); {
			case x.Is:
				fmt.Fprintf(&b, `<c r="%s" s="%d"><v>%s</v></c>`, name,
					styleFigures+min(s.Columns[i].Decimal, mostDecimals),
					strconv.FormatFloat(x.Number, 'g', 15, 64))
			case x.Text != "":
				textCell(&b, name, x.Text, styleText)
			}
		}
		b.WriteString(`</row>`)
	}
	return b.String() + `</sheetData><autoFilter ref="` + area +
		`"/><pageMargins left="0.5" right="0.4" top="0.5" bottom="0.5" header="0.3" footer="0.3"/>` +
		`<pageSetup orientation="landscape" fitToWidth="1" fitToHeight="0"/><headerFooter><oddFooter>&amp;L&amp;A&amp;R&amp;P / &amp;N</oddFooter></headerFooter></worksheet>`
}

func textCell(b *strings.Builder, name, text string, style int) {
	fmt.Fprintf(b, `<c r="%s" s="%d" t="inlineStr"><is><t xml:space="preserve">%s</t></is></c>`, name, style,
		html.EscapeString(clean(text)))
}

// letters is how many letters wide a column is shown: as its longest text, within reason.
func (s Schedule) letters(i int, c Column) int {
	n := utf8.RuneCountInString(c.Head())/2 + 4
	for _, r := range s.Rows {
		n = max(n, utf8.RuneCountInString(c.shows(r[i]))+2)
	}
	return min(max(n, 6), 48)
}

// cellName names a cell by column from 0 and row from 1: "B3", or "$B$3".
func cellName(column, row int, fixed bool) string {
	letters := ""
	for n := column + 1; n > 0; n = (n - 1) / 26 {
		letters = string(rune('A'+(n-1)%26)) + letters
	}
	if fixed {
		return "$" + letters + "$" + strconv.Itoa(row)
	}
	return letters + strconv.Itoa(row)
}
