"""What the headings of a list of guests mean, in the languages its columns are most likely to be headed in.

The words are common ones of each language, from memory. Accents, capital letters and marks between words do not matter.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from functools import lru_cache

_BETWEEN_WORDS = re.compile(r"[\s_./#*:()?-]+")

# "whole" is a name with nothing to add; "name" may be the part of it that no other column holds.
_WORDS: Mapping[str, Mapping[str, str]] = {
    "whole": {
        "en": "names, guest, guests, guest name, full name, name on card, participant, participants, attendee",
        "de": "Gast, Gäste, Teilnehmer, Teilnehmerin, vollständiger Name",
        "fr": "invité, invités, invitée, invitées, participant, nom complet, nom et prénom, prénom et nom",
        "es": "invitado, invitados, invitada, invitadas, participante, nombre completo, nombre y apellidos",
        "it": "ospite, ospiti, invitato, invitata, invitati, partecipante, nome completo, nome e cognome",
        "nl": "gast, gasten, deelnemer, volledige naam",
        "pt": "convidado, convidada, convidados, nome completo",
        "sv da nb": "gäst, gäster, gjest, gjester, gæst, gæster, deltagare, deltager, deltaker",
        "pl fi cs": "gość, goście, uczestnik, imię i nazwisko, vieras, vieraat, osallistuja, host, hosté, účastník",
    },
    "name": {
        "en": "name",
        "de": "Name, Namen",
        "fr": "nom",
        "es": "nombre",
        "it pt": "nome",
        "nl": "naam",
        "sv da nb": "namn, navn",
        "pl fi cs": "imię, nimi, jméno",
    },
    "first": {
        "en": "first name, firstname, forename, given name, given names",
        "de": "Vorname, Vornamen",
        "fr": "prénom, prénoms",
        "nl": "voornaam",
        "sv da nb": "förnamn, fornavn",
        "fi": "etunimi",
    },
    "last": {
        "en": "last name, lastname, surname, family name",
        "de": "Nachname, Familienname, Zuname",
        "fr": "nom de famille",
        "es": "apellido, apellidos",
        "it": "cognome",
        "nl": "achternaam",
        "pt": "apelido, sobrenome",
        "sv da nb": "efternamn, efternavn, etternavn",
        "pl fi cs": "nazwisko, sukunimi, příjmení",
    },
    "table": {
        "en": "table, tables, table number, table no, table name, at table",
        "de": "Tisch, Tische, Tischnummer, Tisch Nr",
        "fr": "numéro de table, table n°",
        "es pt": "mesa, mesas, número de mesa",
        "it": "tavolo, tavola, tavoli, numero tavolo",
        "nl": "tafel, tafelnummer",
        "sv da nb": "bord, bordsnummer, bordnummer",
        "pl fi cs": "stół, stolik, pöytä, stůl",
    },
    "project": {
        "en": "project, projects, recipe, kit, makes, making, activity, workshop, class, choice, craft",
        "de": "Projekt, Projekte, Bastelprojekt, Bastelei, Auswahl",
        "fr": "projet, projets, activité, atelier, choix",
        "es": "proyecto, proyectos, actividad, taller, elección",
        "it": "progetto, progetti, attività, laboratorio, scelta",
        "nl": "projecten, activiteit, keuze",
        "pt": "projeto, projetos, atividade, oficina, escolha",
        "sv da nb": "prosjekt, aktivitet, val, valg",
        "pl fi cs": "projekty, projekti, aktivita, wybór, valinta",
    },
    "size": {
        "en": "size, sizes, kit size",
        "de": "Größe, Grösse, Groesse",
        "fr": "taille, tailles",
        "es": "talla, tamaño",
        "it": "taglia, misura, dimensione",
        "nl": "maat, grootte",
        "pt": "tamanho",
        "sv da nb": "storlek, størrelse",
        "pl fi cs": "rozmiar, koko, velikost",
    },
    "diet": {
        "en": "diet, diets, dietary, dietary needs, dietary requirements, food needs, allergy, allergies, allergens,"
        " intolerance, intolerances, allergies and diet",
        "de": "Diät, Ernährung, Allergie, Allergien, Allergene, Unverträglichkeit, Unverträglichkeiten",
        "fr": "régime, régime alimentaire, allergène, allergènes, intolérance, intolérances",
        "es pt": "dieta, dietas, alergia, alergias, alérgenos, alergénios, intolerancia, intolerancias",
        "it": "allergia, allergeni, intolleranza, intolleranze",
        "nl": "dieet, allergieën, dieetwensen",
        "sv da nb": "kost, allergi, allergier, specialkost, diett",
        "pl fi cs": "alergie, ruokavalio, allergiat",
    },
    "note": {
        "en": "note, notes, remark, remarks, comment, comments, meal, menu",
        "de": "Bemerkung, Bemerkungen, Notiz, Notizen, Anmerkung, Kommentar",
        "fr": "remarque, remarques, commentaire, commentaires, repas",
        "es pt": "nota, notas, observación, observaciones, observações, comentario, comentarios, menú",
        "it": "osservazioni, commento, commenti",
        "nl": "opmerking, opmerkingen",
        "sv da nb": "anmärkning, bemærkning, merknad",
        "pl fi cs": "uwagi, huomautus, poznámka",
    },
}


def _plain(text: str) -> str:
    apart = unicodedata.normalize("NFKD", text.casefold())
    return " ".join(_BETWEEN_WORDS.split("".join(one for one in apart if not unicodedata.combining(one)))).strip()


_MEANS = {
    _plain(heading): word
    for word, languages in _WORDS.items()
    for headings in languages.values()
    for heading in headings.split(",")
}


@lru_cache(maxsize=1024)
def heading_of(cell: str) -> str:
    """What a column with this heading holds; empty where it is no heading that is known."""
    return _MEANS.get(_plain(cell), "")


def heading_within(cell: str) -> str:
    """What a longer heading asks for, by the one kind of known heading among its words: `Your name`."""
    kinds = {_MEANS[word] for word in _plain(cell).split() if word in _MEANS}
    return kinds.pop() if len(kinds) == 1 else ""
