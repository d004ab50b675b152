package chart

import (
	"fmt"
	"html"
)

func esc(s string) string { return html.EscapeString(s) }

// scaleUpright draws the scale of colours right of the plan, the highest on top.
func (d *fieldMap) scaleUpright(cv *canvas, area box, w float64, numbers []string) {
	cv.text(point{w - 2, 13}, end, 0, class("ta"), d.valueTitle())
	const wide = 16
	x := w - 2 - widest(numbers)*0.95 - 7 - wide
	h := (area.y1 - area.y0) / float64(len(d.colour))
	for i, k := range d.colour {
		swatch(cv, box{x, area.y1 - float64(i+1)*h, x + wide, area.y1 - float64(i)*h}, hex(k))
	}
	for i, n := range numbers {
		y := area.y1 - float64(i)*h
		switch i { // the ends stay within the height of the plan
		case 0:
			y -= 3
		case len(numbers) - 1:
			y += 4
		}
		cv.text(point{x + wide + 6, y + 4.5}, start, 0, class("tn"), n)
	}
	d.frame(cv, box{x, area.y0, x + wide, area.y1})
}

// scaleAcross draws it below the plan. Numbers that would touch are left out.
func (d *fieldMap) scaleAcross(cv *canvas, area box, y float64, numbers []string) {
	const high = 12
	cv.text(point{area.x0, y + 4}, start, 0, class("ta"), d.valueTitle())
	y += 12
	x1 := cv.w - 12
	w := (x1 - area.x0) / float64(len(d.colour))
	for i, k := range d.colour {
		swatch(cv, box{area.x0 + float64(i)*w, y, area.x0 + float64(i+1)*w, y + high}, hex(k))
	}
	every := 1
	for float64(every)*w < widest(numbers)+8 {
		every++
	}
	for i, n := range numbers {
		if i%every == 0 {
			cv.text(point{area.x0 + float64(i)*w, y + high + 15}, middle, 0, class("tn"), n)
		}
	}
	d.frame(cv, box{area.x0, y, x1, y + high})
}

func (d *fieldMap) valueTitle() string {
	return d.scale.title(Axis{Label: d.Label, Unit: d.Unit})
}

func swatch(cv *canvas, b box, fill string) {
	cv.raw(fmt.Sprintf(`<rect x="%s" y="%s" width="%s" height="%s" fill="%s"/>`, cv.num(b.x0), cv.num(b.y0), cv.num(b.x1-b.x0), cv.num(b.y1-b.y0), fill))
}

func (d *fieldMap) frame(cv *canvas, b box) {
	cv.raw(fmt.Sprintf(`<path class="ax" d="M%s %sH%sV%sH%sZ"/>`, cv.num(b.x0), cv.num(b.y0), cv.num(b.x1), cv.num(b.y1), cv.num(b.x0)))
}
