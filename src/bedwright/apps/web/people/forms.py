"""Forms of people: signing in, first account, joining, own page."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib.auth import password_validation
from django.utils.translation import gettext_lazy as _

from bedwright.apps.web.people.models import Role, User


class SignInForm(forms.Form):
    """Email address and password."""

    email = forms.EmailField(
        label=_("Email address"), max_length=254, widget=forms.EmailInput({"autocomplete": "username"})
    )
    password = forms.CharField(
        label=_("Password"),
        strip=False,
        max_length=200,
        widget=forms.PasswordInput({"autocomplete": "current-password"}),
    )


class NewPersonForm(forms.Form):
    """Name, email address and a password of one's own."""

    name = forms.CharField(
        label=_("Your name"), max_length=80, widget=forms.TextInput({"autocomplete": "name"})
    )
    email = forms.EmailField(
        label=_("Email address"), max_length=254, widget=forms.EmailInput({"autocomplete": "username"})
    )
    password = forms.CharField(
        label=_("Password"),
        strip=False,
        max_length=200,
        help_text=_("At least 10 characters; a few words in a row are easy to keep in mind."),
        widget=forms.PasswordInput({"autocomplete": "new-password"}),
    )

    def clean_email(self) -> str:
        """The address in small letters; one that is taken is refused."""
        email: str = self.cleaned_data["email"].lower()
        if User.objects.filter(email=email).exists():
            raise forms.ValidationError(
                _("Somebody with this address has an account. Sign in, then open the link again.")
            )
        return email

    def clean(self) -> dict[str, Any]:
        """Hold the password against the rules, with the name and address known."""
        data = super().clean() or {}
        if "password" in data:
            person = User(email=data.get("email", ""), name=data.get("name", ""))
            try:
                password_validation.validate_password(data["password"], person)
            except forms.ValidationError as error:
                self.add_error("password", error)
        return data

    def save(self) -> User:
        """The new person."""
        data = self.cleaned_data
        return User.objects.create_user(data["email"], data["password"], name=data["name"])


class FirstPersonForm(NewPersonForm):
    """The first account, which may start with the example garden."""

    with_demo = forms.BooleanField(
        label=_("Start with the demonstration garden"),
        required=False,
        initial=True,
        help_text=_("An invented garden with a whole book and weather record, to look around in."),
    )


class OwnPageForm(forms.ModelForm[User]):
    """Name and language."""

    class Meta:
        """Fields of the model."""

        model = User
        fields = ("name", "language")
        labels = {"name": _("Your name"), "language": _("Language")}  # noqa: RUF012 - read by Django

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        choices = [("", _("As the browser says")), ("en", "English"), ("de", "Deutsch")]
        self.fields["language"] = forms.ChoiceField(label=_("Language"), choices=choices, required=False)


class PasswordForm(forms.Form):
    """The old password and a new one."""

    old = forms.CharField(
        label=_("Present password"),
        strip=False,
        widget=forms.PasswordInput({"autocomplete": "current-password"}),
    )
    new = forms.CharField(
        label=_("New password"),
        strip=False,
        max_length=200,
        help_text=_("At least 10 characters; a few words in a row are easy to keep in mind."),
        widget=forms.PasswordInput({"autocomplete": "new-password"}),
    )

    def __init__(self, person: User, *args: Any, **kwargs: Any) -> None:
        self.person = person
        super().__init__(*args, **kwargs)

    def clean_old(self) -> str:
        """The present password, checked."""
        old: str = self.cleaned_data["old"]
        if not self.person.check_password(old):
            raise forms.ValidationError(_("This is not your present password."))
        return old

    def clean_new(self) -> str:
        """The new password, held against the rules."""
        new: str = self.cleaned_data["new"]
        password_validation.validate_password(new, self.person)
        return new


class InvitationForm(forms.Form):
    """Which part the invited person gets."""

    role = forms.ChoiceField(label=_("Part"), choices=Role.choices, initial=Role.VOLUNTEER)
    note = forms.CharField(
        label=_("For whom"),
        max_length=80,
        required=False,
        help_text=_("A reminder for yourself; not checked."),
    )
