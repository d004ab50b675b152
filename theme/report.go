package theme

import (
	"net/url"
	"strconv"
	"strings"

	gmhtml "github.com/yuin/goldmark/renderer/html"
	"github.com/yuin/goldmark/util"

	"workings/calc"
	"workings/content"
)

// maxReport is how long the address of a report may become: longer ones are
// cut by some mail programs and servers.
const maxReport = 1900

// reportHref is the address for problems with a sheet or a step; "" if the
// manual gives none, or none that can name a step. The sheet is its mark and
// title. The places of the address are filled in:
// {release}, {page} and {step} with their ids, {title} with all three in words,
// {body} with a letter that also holds the figures of the step.
func (v *view) reportHref(sheet string, p *content.Page, s *content.Step, figures []*calc.Figure) string {
	report := v.in.Manual.Config.Report
	if report == "" {
		return ""
	}
	page, step := "", ""
	if p != nil {
		page = p.ID
	}
	sheet = fill(v.w.ReportTitle, "release", v.in.Release.Name, "sheet", sheet)
	if s != nil {
		if !strings.Contains(report, "{step}") && !strings.Contains(report, "{title}") && !strings.Contains(report, "{body}") {
			return ""
		}
		step = s.ID
		sheet += ", " + v.w.Step + " " + strconv.Itoa(s.Number) + " " + v.fill(s.Parts, s.Title)
	}
	lines := []string{v.in.Site.Title, sheet}
	if step != "" {
		lines = append(lines, page+".html#"+step)
	}
	if v.in.Checksum != "" {
		lines = append(lines, v.w.Checksum+" "+v.in.Checksum)
	}
	lines = append(lines, "", v.w.ReportWrong, "", "")
	filled := func(body []string) string {
		href := fillEscaped(report, "release", v.in.Release.Name, "page", page, "step", step,
			"title", v.in.Site.Title+": "+sheet, "body", strings.Join(body, "\r\n"))
		if gmhtml.IsDangerousURL([]byte(href)) {
			return ""
		}
		return string(util.URLEscape([]byte(href), false))
	}
	href := filled(lines)
	if !strings.Contains(report, "{body}") || len(figures) == 0 {
		return href
	}
	lines = append(lines, v.w.ReportFigures)
	for _, f := range figures {
		lines = append(lines, f.Name+" = "+v.figureText(f))
		longer := filled(lines)
		if len(longer) > maxReport {
			break
		}
		href = longer
	}
	return href
}

// fillEscaped puts values into an address, each so that nothing in it can be
// taken for a part of the address.
func fillEscaped(s string, pairs ...string) string {
	for i := 1; i < len(pairs); i += 2 {
		pairs[i] = strings.ReplaceAll(url.QueryEscape(pairs[i]), "+", "%20")
	}
	return fill(s, pairs...)
}
