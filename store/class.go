package store

import (
	"context"

	"steelyard/homework"
)

// AddClass adds a class with its first teacher, who is by.Who.
func (s *Store) AddClass(ctx context.Context, by By, c homework.Class) error { return errNotYet }

// Class finds a class; ClassByCode by the code that names it at sign-in.
func (s *Store) Class(ctx context.Context, id string) (homework.Class, error) {
	return homework.Class{}, errNotYet
}
func (s *Store) ClassByCode(ctx context.Context, code string) (homework.Class, error) {
	return homework.Class{}, errNotYet
}

// ClassesOf lists a teacher's classes, by name.
func (s *Store) ClassesOf(ctx context.Context, teacher string) ([]homework.Class, error) {
	return nil, errNotYet
}

// SaveClass changes all of a class but its ID and source. Its version has to be the stored one.
func (s *Store) SaveClass(ctx context.Context, by By, c homework.Class) error { return errNotYet }

// Teaches says whether a teacher teaches a class; TeachersOf lists who does, by ID.
func (s *Store) Teaches(ctx context.Context, teacher, class string) (bool, error) {
	return false, errNotYet
}
func (s *Store) TeachersOf(ctx context.Context, class string) ([]string, error) {
	return nil, errNotYet
}

// Share lets another teacher teach a class too; Unshare ends that. The last teacher stays.
func (s *Store) Share(ctx context.Context, by By, class, teacher string) error   { return errNotYet }
func (s *Store) Unshare(ctx context.Context, by By, class, teacher string) error { return errNotYet }

// AddPupils adds pupils to a class, all or none.
func (s *Store) AddPupils(ctx context.Context, by By, class string, pupils []homework.Pupil) error {
	return errNotYet
}

// Pupil finds a pupil; Pupils lists those of a class in the order in which they were added, those who have left too.
func (s *Store) Pupil(ctx context.Context, id string) (homework.Pupil, error) {
	return homework.Pupil{}, errNotYet
}
func (s *Store) Pupils(ctx context.Context, class string) ([]homework.Pupil, error) {
	return nil, errNotYet
}

// SavePupil changes a pupil's name, code, access and whether they have left. A new code, or having left, ends
// their sessions.
func (s *Store) SavePupil(ctx context.Context, by By, p homework.Pupil) error { return errNotYet }
