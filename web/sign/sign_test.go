package sign_test

import (
	"testing"

	"steelyard/web/webtest"
)

func TestATeacherSignsInAndOut(t *testing.T) {
	site := webtest.New(t)
	p := site.Visitor.Get("/").Want(200).Has("Sign in as a pupil", "Sign in as a teacher").Follow("Sign in as a teacher").Want(200)
	p.Submit("Sign in", webtest.Values{"Name to sign in with": "head", "Password": "wrong"}).Want(422).Has("name and password do not go together")
	site.Visitor.Get("/sign-in").Submit("Sign in", webtest.Values{"Name to sign in with": " HEAD ", "Password": site.Password})
	site.Visitor.Get("/account").Want(200).Has("Vera Orlando", "Passkeys", "Colleagues")
	p = site.Visitor.Get("/account").Submit("Sign out", nil)
	if p.Path != "/" {
		t.Error(p.Path)
	}
	site.Visitor.Get("/account").Has("Sign in as a teacher")
}

func TestAPupilSignsIn(t *testing.T) {
	site := webtest.New(t)
	form := site.Visitor.Get("/sign-in/pupil").Want(200)
	form.Submit("Sign in", webtest.Values{"Class code": site.Class.Code, "Your own code": "2222-2222"}).Want(422).Has("do not go together")
	form.Submit("Sign in", webtest.Values{"Class code": "", "Your own code": site.Class.Code + " " + site.Codes[1]})
	site.Visitor.Get("/account").Want(200).Has("Omar Quist").Lacks("Password", "Passkeys")
	site.Pupils[0].Get("/account").Want(200).Has("Ilse Hart")
}
