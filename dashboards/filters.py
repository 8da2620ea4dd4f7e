"""Filters whose state is the page's address: a view can be sent to someone, and Back works."""

from collections.abc import Mapping, Sequence

import streamlit as st

from dashboards.words import plain


def several(label: str, key: str, options: Mapping[str, str]) -> tuple[str, ...]:
    """A choice of any number of `options` (value -> label), kept in the address as `key`; () means any."""
    chosen = st.multiselect(
        label, list(options), key=key, format_func=lambda value: options[value], placeholder="Any",
        bind="query-params",
    )  # fmt: skip
    return tuple(chosen)


def one(label: str, key: str, options: Mapping[str, str], default: str | None = None) -> str:
    """A choice of exactly one of `options` (value -> label); `default` (else the first) is left out of the address."""
    values = list(options)
    index = values.index(default) if default is not None and default in options else 0
    chosen: str = st.selectbox(
        label, values, index=index, key=key, format_func=lambda value: options[value], bind="query-params"
    )
    return chosen


def maybe_one(label: str, key: str, options: Mapping[str, str], none: str = "Any") -> str | None:
    """A choice of one of `options` (value -> label) or of none of them."""
    chosen: str | None = st.selectbox(
        label, list(options), index=None, key=key, format_func=lambda value: options[value], placeholder=none,
        bind="query-params",
    )  # fmt: skip
    return chosen


def same(values: Sequence[str]) -> dict[str, str]:
    """Options whose label is the value itself."""
    return {value: value for value in values}


def complain(offered: Mapping[str, Mapping[str, str]]) -> None:
    """Say which values of the address the page does not have. Call it before the filters, which drop them.

    `offered`: address key -> options of that filter.
    """
    for sentence in complaints({key: st.query_params.get_all(key) for key in offered}, offered):
        st.warning(plain(sentence))


def complaints(asked: Mapping[str, Sequence[str]], offered: Mapping[str, Mapping[str, str]]) -> list[str]:
    """One sentence for each filter of the address that names a value which is not offered."""
    sentences = []
    for key, options in offered.items():
        labels = set(options.values())
        unknown = [f"“{value}”" for value in asked.get(key, ()) if value and value not in labels]
        if unknown:
            sentences.append(
                f"The address asks for {key} {', '.join(unknown)}, which this book does not have; it was left out."
            )
    return sentences
