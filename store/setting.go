package store

import "context"

// Setting is a value that the program keeps for itself, such as a secret of its own.
func (s *Store) Setting(ctx context.Context, name string) (value string, err error) {
	err = s.read(ctx, "setting "+name, func(t tx) (err error) {
		value, err = one(t, single[string], "SELECT value FROM settings WHERE name = $1", name)
		return err
	})
	return value, err
}

// SetSetting keeps a setting.
func (s *Store) SetSetting(ctx context.Context, name, value string) error {
	return s.often(ctx, "setting "+name, func(t tx) error { return setSetting(t, name, value) })
}

// FirstSetting keeps a setting if there is none of that name, and returns what is kept: of several
// programs that start at once, all get the same.
func (s *Store) FirstSetting(ctx context.Context, name, value string) (first string, err error) {
	err = s.often(ctx, "setting "+name, func(t tx) (err error) {
		if _, err = t.exec("INSERT INTO settings (name, value) VALUES ($1, $2) ON CONFLICT (name) DO NOTHING", name, value); err != nil {
			return err
		}
		first, err = one(t, single[string], "SELECT value FROM settings WHERE name = $1", name)
		return err
	})
	return first, err
}

func setSetting(t tx, name, value string) error {
	_, err := t.exec("INSERT INTO settings (name, value) VALUES ($1, $2) ON CONFLICT (name) DO UPDATE SET value = excluded.value", name, value)
	return err
}
