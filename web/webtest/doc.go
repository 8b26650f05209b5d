// Package webtest starts the whole program on this computer's own address for tests: a database of its own, a clock that
// the test sets, a head teacher, a class with pupils, and browsers without scripts that are signed in. Only tests use it.
//
//	site := webtest.New(t)
//	p := site.Teacher.Get("/classes")
//	p.Want(200).Has("Add a class")
//	p = p.Submit("Add", webtest.Values{"Name": "10b"}) // by the button's text and the fields' labels
//	site.Pupils[0].Get("/work")
package webtest
