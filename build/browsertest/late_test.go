package browsertest

import (
	"math"
	"testing"
)

// What stands below the screen is laid out after the first sight of a sheet.
// In the end the sheet is as it would be without that, and one that is entered
// in its midst is so from the start.
func TestLaidLate(t *testing.T) {
	t.Parallel()
	dir := demonstration(t)
	inEach(t, func(t *testing.T, p *tab) {
		page := serve(t, dir) + rc + "recoater.html"
		const left = "Array.from(document.querySelectorAll('main *')).filter((e) => getComputedStyle(e).contentVisibility === 'auto').length"
		p.goTo(page)
		p.until("document.documentElement.classList.contains('laid')")
		if n := value[int](p, left); n > 0 {
			t.Errorf("%d pieces are never laid out", n)
		}
		height := value[float64](p, "document.documentElement.scrollHeight")
		wide := value[int](p, "document.querySelectorAll('main .wide').length")
		if narrow := value[int](p, "Array.from(document.querySelectorAll('main .line, main .code, main .scroll')).filter((e) => e.scrollWidth > e.clientWidth + 1 && e.tabIndex !== 0).length"); narrow > 0 {
			t.Errorf("%d places that scroll are not reached by keyboard, %d are", narrow, wide)
		}

		p.goTo("about:blank")
		p.goTo(page + "#tension")
		if !value[bool](p, "document.documentElement.classList.contains('laid')") {
			t.Error("a sheet that is entered in its midst is not laid out at once")
		}
		p.until("document.fonts.status === 'loaded'")
		if top := value[float64](p, "document.getElementById('tension').getBoundingClientRect().top"); math.Abs(top) > 2 {
			t.Errorf("the step that a link leads to stands %v px from the top", top)
		}
		if got := value[float64](p, "document.documentElement.scrollHeight"); math.Abs(got-height) > 2 {
			t.Errorf("laid out late the sheet is %v px high, at once %v", height, got)
		}
	})
}
