from dataclasses import replace

from pose_fit.casebook.letters import photo_request
from pose_fit.inseam.inseam import Inseam
from pose_fit.refusal import Notice, Refusal


def test_the_letter_has_the_advice_the_tape_and_the_code_but_no_name(book, content):
    retake = ("Come closer.", "Use more light.")
    estimate = Inseam(content.estimate.length, "photo", retake=retake)
    case = book.receive(replace(content, estimate=estimate), by="family")
    letter = photo_request(case)
    assert "- Come closer.\n- Use more light." in letter
    assert case.reply_code in letter
    assert "tape" in letter
    assert "Zoë" not in letter


def test_a_refused_photo_is_told_why(book, content):
    refusal = Refusal((Notice("feet_out_of_frame", "The feet are cut off."),), ("Step back.",))
    letter = photo_request(book.receive(replace(content, estimate=refusal), by="family"))
    assert "could not measure the photo you sent. The feet are cut off." in letter
    assert "- Step back." in letter


def test_a_spanish_family_reads_spanish_and_no_english_advice(book, content):
    estimate = Inseam(content.estimate.length, "photo", retake=("Sit.",))
    case = book.receive(replace(content, estimate=estimate, language="es"), by="family")
    letter = photo_request(case)
    assert letter.startswith("Hola:")
    assert case.reply_code in letter
    assert "Sit." not in letter
    assert not {"the", "photo", "child"} & set(letter.split())


def test_a_spanish_family_reads_what_would_help_in_spanish(book, content):
    retake = ("Measure barefoot, or give the thickness of the soles.",)
    estimate = Inseam(content.estimate.length, "photo", retake=retake)
    case = book.receive(replace(content, estimate=estimate, language="es"), by="family")
    assert "- Mida al niño descalzo, o diga el grosor de las suelas." in photo_request(case)


def test_who_is_asked_for_another_picture_is_not_told_to_point_at_this_one(book, content):
    retake = ("Point at the crotch again, with the picture enlarged.", "Use more light.")
    estimate = Inseam(content.estimate.length, "photo", retake=retake)
    letter = photo_request(book.receive(replace(content, estimate=estimate), by="family"))
    assert "Point at" not in letter
    assert "- Use more light." in letter
