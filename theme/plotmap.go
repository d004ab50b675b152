package theme

import (
	"fmt"

	"workings/calc/model"
	"workings/content"
)

func (v *view) drawMap(p *content.Plot, id, title string) (svg, table string, err error) {
	s := v.in.Result.Shown(p.Map)
	if s == nil {
		return "", "", fmt.Errorf("its field")
	}
	if _, ok := s.Value.(*model.Map); !ok {
		return "", "", fmt.Errorf("its field")
	}
	return "", "", nil
}
