"""Names that stand on teams' sheets: places, beds, moves, cautions, why a place was left.

All of this module is translated; see resources/translations.
"""

from __future__ import annotations

from hotelwatch.wording.language import marked as m

PLACES = {
    "bedding": m("Bedding, layer by layer"),
    "mattress_top": m("Mattress top, piping and corners"),
    "mattress_label": m("Mattress label and handles"),
    "encasement_zip": m("Zip of the mattress encasement"),
    "encasement_seams": m("Seams and corners of the encasement"),
    "mattress_underside": m("Underside of the mattress"),
    "base_edge": m("Edge and corners of the base"),
    "base_underside": m("Underside of the box spring"),
    "base_staple_line": m("Staple line of its dust cover"),
    "base_corner_caps": m("Corner caps"),
    "base_inside": m("Inside, behind the dust cover"),
    "base_encasement_underside": m("Underside of the encased box spring"),
    "platform_top": m("Platform top, under the mattress"),
    "platform_joints": m("Joints and screw holes of the platform"),
    "platform_underneath": m("Underneath the platform"),
    "divan_underside": m("Underside of the divan"),
    "divan_drawers": m("Divan drawers and their runners"),
    "slats": m("Slats"),
    "slat_ends": m("Slat ends and holders"),
    "bunk_upper_underside": m("Underside of the upper bunk"),
    "bunk_joints": m("Bunk joints, ladder and rails"),
    "adjustable_underside": m("Underside of the adjustable base"),
    "sofa_cushions": m("Sofa cushions and their zips"),
    "sofa_fold": m("Fold and hinges of the sofa bed"),
    "sofa_underside": m("Underside of the sofa"),
    "rollaway_frame": m("Frame and hinges of the roll-away"),
    "rollaway_underside": m("Underside of the roll-away"),
    "crib_base": m("Crib base, under its mattress"),
    "crib_joints": m("Crib joints"),
    "frame_joints": m("Bed frame joints, legs and castors"),
    "headboard_front": m("Headboard, front and edges"),
    "headboard_back": m("Behind the headboard"),
    "night_stands": m("Night stands and drawers"),
    "pictures_lamps": m("Behind pictures and wall lamps"),
    "seats": m("Upholstered seats"),
    "luggage_rack": m("Luggage rack and its straps"),
    "skirting": m("Skirting and carpet edge by the bed"),
}

BEDS = {
    "box_spring": m("Box spring and mattress"),
    "platform": m("Platform bed"),
    "divan": m("Divan"),
    "slats": m("Bed with slats"),
    "adjustable": m("Adjustable bed"),
    "bunk": m("Bunk bed"),
    "sofa_bed": m("Sofa bed"),
    "rollaway": m("Roll-away bed"),
    "crib": m("Crib"),
}

MOVES = {
    "stand_mattress": m("Stand the mattress on its side"),
    "stand_base": m("Stand the base on its side"),
    "open_dust_cover": m("Open the dust cover"),
    "drawers_out": m("Take the drawers out"),
    "raise_and_unplug": m("Raise the base, then unplug it"),
    "cushions_off": m("Take the cushions off"),
    "unfold_sofa": m("Unfold the sofa bed"),
    "tilt_sofa": m("Tilt the sofa"),
    "lift_crib_mattress": m("Lift the crib mattress"),
    "unhang_headboard": m("Take the headboard off the wall"),
}

CAUTIONS = {
    "lift_slowly_bag_linen": m("Lift slowly, look, bag the linen in the room"),
    "gloves_and_light": m("Gloves on; bright light held low along the seams"),
    "leave_label_on": m("Look under the label; leave it on"),
    "do_not_open_encasement": m("Leave the encasement closed"),
    "two_people_lift": m("Two people; keep clear of where it may fall"),
    "staples_are_sharp": m("Staples are sharp: gloves, no bare fingers"),
    "look_under_caps": m("Look under each cap; do not break it off"),
    "decide_before_opening": m("Decide first: a cover once opened may not go back as it was"),
    "knees_and_light": m("Kneel on a pad; light in first, hand later"),
    "ladder_two_people": m("Two people; one steadies the ladder"),
    "unplug_pinch": m("Unplug it; fingers off hinges and motors"),
    "pinch_unfold": m("It can pinch: hold by the handles only"),
    "headboard_two_people": m("Two people; it is heavy once off its hooks"),
    "outlets_eyes_only": m("Eyes only at sockets: touch nothing electric"),
}

WHY_UNSEEN = {
    "guest_belongings": m("Guest's belongings in the way"),
    "fixed_to_floor": m("Fixed, could not be stood up"),
    "no_second_person": m("No second person to lift"),
    "no_time": m("No time left"),
    "guest_present": m("Guest in the room"),
    "cannot_be_moved": m("Too heavy or stuck"),
    "not_asked": m("Not asked for this time"),
    "other": m("Other reason, see note"),
}

AIDS = {
    "bright_light": m("Bright light"),
    "hand_lens": m("Hand lens"),
    "thin_card": m("Thin card"),
    "mirror": m("Mirror"),
    "lifting_aid": m("Lifting aid"),
    "kneeling_pad": m("Kneeling pad"),
}

STANDING = {
    "measured": m("Measured here"),
    "published": m("Published"),
    "from_memory": m("Published, from memory"),
    "common_practice": m("Common practice, no source"),
    "assumption": m("Assumption, nobody measured it"),
    "chosen": m("Chosen by this hotel"),
}

ROOM_STATE = {
    "open": m("To be looked at"),
    "left_over": m("Beds left over"),
    "not_asked": m("Not asked for yet"),
    "found": m("Sign found"),
    "clean": m("Looked at, nothing found"),
    "struck_out": m("Left out by a person"),
    "withdrawn": m("No longer wanted"),
}

WHY_NO_TEAM = {
    "closed": m("Nobody looks at beds"),
    "away": m("Every team is away"),
    "day_off": m("No team works"),
    "nothing_left": m("All minutes are in reserve"),
    "not_planned": m("Not planned"),
}
"""Why no team is on a day of a round's page."""
