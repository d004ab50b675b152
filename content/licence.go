package content

import (
	"github.com/github/go-spdx/v2/spdxexp"

	"workings/calc/diag"
)

// checkLicence sees that the licences are SPDX expressions whose identifiers
// are on the SPDX licence list, or are references of one's own: LicenseRef-….
func checkLicence(l Licence, t *tomlText, list *diag.List) {
	for _, x := range []struct{ key, expr string }{
		{"licence.design", l.Design}, {"licence.text", l.Text}, {"licence.software", l.Software},
	} {
		if x.expr == "" {
			continue
		}
		if ok, _ := spdxexp.ValidateLicenses([]string{x.expr}); !ok {
			list.Add(t.place(x.key), "licence", "%q is no SPDX licence expression", x.expr).
				Hint = `write an identifier of the SPDX licence list, such as "CERN-OHL-S-2.0" or "CC-BY-SA-4.0", or LicenseRef- and a name of your own`
		}
	}
}
