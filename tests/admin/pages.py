"""A page of the admin as a browser sends it back: every field as it was shown, then what a person changed."""

from django.urls import reverse


def address(model, row=None):
    kind = f"admin:coop_{model._meta.model_name}"
    return reverse(f"{kind}_change", args=[row.pk]) if row else reverse(f"{kind}_add")


def shown(client, page):
    """The data of the form of a page."""
    context = client.get(page).context
    forms = [context["adminform"].form]
    for inline in context["inline_admin_formsets"]:
        forms += [inline.formset.management_form, *inline.formset.forms]
    return {
        form.add_prefix(name): text(form[name].value())
        for form in forms
        for name in form.fields
        if not is_left_out(form[name].value())
    }


def is_left_out(value):
    """An empty field and an unticked box are not sent; a nought is."""
    return value is None or value is False


def text(value):
    return [str(one) for one in value] if isinstance(value, list) else str(value)


def send(client, page, **changes):
    """Saves the page after a person changed these fields; None empties one, as an unticked box does."""
    data = {**shown(client, page), **changes}
    return client.post(page, {name: value for name, value in data.items() if value is not None})


def row(prefix, number, **columns):
    """Fields of one row of the rows below, the number beginning at 0."""
    return {f"{prefix}-{number}-{name}": value for name, value in columns.items()}


def mistakes(response):
    """Everything that the page says is wrong."""
    assert response.status_code == 200
    context = response.context
    found = [context["adminform"].form.errors]
    for inline in context["inline_admin_formsets"]:
        found += [inline.formset.non_form_errors(), *inline.formset.errors]
    return " ".join(str(errors) for errors in found if errors)
