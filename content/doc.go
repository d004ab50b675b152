// Package content reads a manual's source: the layout of its folder, the
// configuration, the parts list, and its pages in Markdown. Load turns an
// fs.FS, be it a folder, a zip or a Git tag, into a Manual, and reports every
// mistake at its place. Nothing is computed here: the expressions of all pages
// are collected for package calc, and what a page shows refers to them by
// number.
//
// # Layout
//
//	manual.toml      required: title, release; also summary, notice, date, current,
//	                 language, publisher, authors, licence, repository, report, pages,
//	                 html and [[releases]] with name and one of folder, zip, tag, commit
//	design.calc      the design sheet
//	parts.csv        columns id and name, and any of specification, material, kind,
//	                 mass (g), price (EUR), source, pack, spare, critical, substitutes,
//	                 by length (yes or no), in any order; further columns are kept
//	pages/20-frame.md  the page frame; its first level-1 heading is the title
//	pictures/ tables/  what pages show and sheets read
//
// Text files are UTF-8. A byte order mark and the line ends of other systems
// are accepted; fields of parts.csv are parted by comma, semicolon or tab.
// Pages come in the order that manual.toml lists, else by the order that a page
// states in its page block, else by the number in the file name.
//
// # Pages
//
// A page is CommonMark with tables, task lists, strikethrough and footnotes.
// Plain addresses in the text are no links; <https://…> is. A heading may end
// in {#id}; other headings get their id from their text without its figures.
// Links lead to pages (20-frame.md or, shorter, frame.md), to headings, plots
// and panels (#id), to files of the manual, and to http:, https: and mailto:.
// HTML is an error unless manual.toml says html = "sanitised", and then
// what could run, load or imitate something is taken out; comments are dropped.
//
//	{= belt.hot in N to 2 sf}    an inline figure, anywhere in running text, in tables
//	                             (where a | in it is written \|), headings, link texts,
//	                             and in the captions of pictures; \{= is plain text
//
//	```calc belt hidden "Belt"   lines of the sheet language; name, hidden or results,
//	                             and title may each be left out
//	```page                      TOML: summary, time, people, skill, needs, order, steps,
//	                             [reasons] by parameter
//	```gcode filled              any language: code with figures in it
//	> **WARNING** Hot surface.   a safety panel, with one of the four signal words
//
// The unnamed calc blocks of a page form one block with the page's id as its
// name (frame_top for frame-top); the figures on the page look their names up
// there first. A named block belongs to one page.
//
// Three blocks have one entry a line. A # begins a comment.
//
//	```uses
//	screw_m4x16: 4 "with washers"     a part, how many, and a note
//	belt: loop + 40 mm in mm          a part sold by length, how much
//	tool hex_key_3                    a tool; its number may follow a colon
//	```
//
//	```measure
//	tension "cord tension, cold": belt.cold ± 2 N with "spring balance" note "at mid span"
//	square "the diagonals are equal"  no expected value: answered by yes or no
//	```
//
//	```plot tension
//	title "Cord tension"
//	caption "At {= bay_hot } the cord is at its tightest."
//	line belt.hot "hot"               one or several
//	against bay_hot from 20 °C to 80 °C "air in the bay"
//	mark 60 N "limit"                 a line across
//	band 20 N to 40 N "good"          a shaded stretch
//	```
//
// Instead of a parameter and a range, against takes a list. A map of a field
// is written map EXPRESSION "label", and outline beside it.
//
// The level-2 headings of a page that holds a uses or measure block, or says
// steps = true, are its steps.
package content
