package assess

import "fmt"

// Wear says from which share of the wear allowance, in percent, a part that
// conforms is no longer sound, and no longer serves under hard duty.
type Wear struct {
	UsableFrom  int `json:"usableFrom"`
	NotHardFrom int `json:"notHardFrom"`
}

// Check returns what is wrong with the shares; zero stands for the usual ones.
func (w Wear) Check() error {
	switch {
	case w == (Wear{}):
	case w.UsableFrom < 1 || w.UsableFrom > 100:
		return fmt.Errorf("usable from %d %% of the allowance: it must be 1 to 100", w.UsableFrom)
	case w.NotHardFrom < w.UsableFrom || w.NotHardFrom > 100:
		return fmt.Errorf("not for hard duty from %d %% of the allowance: it must be %d to 100", w.NotHardFrom, w.UsableFrom)
	}
	return nil
}

// UsualWear is what holds where the shop sets nothing (common practice, no source).
func UsualWear() Wear { return Wear{UsableFrom: 50, NotHardFrom: 75} }
