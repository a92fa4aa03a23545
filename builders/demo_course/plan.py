"""The plan of the eighteen holes: numbers chosen by hand, nothing computed.

Places are metres east and north of the origin. Angles about a green are seen by the player who comes along the line
of play: 0 behind the green, 90 on its left, 180 in front, 270 on its right.
"""

from dataclasses import dataclass, field

from builders.demo_course.shapes import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class GreenBunker:
    """A bunker beside the green."""

    angle_deg: float
    gap_m: float = 2.4
    area_m2: float = 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class FairwayBunker:
    """A bunker beside the fairway, so far from the back tee; the offset is to the left when positive."""

    from_tee_m: float
    offset_m: float
    area_m2: float = 75.0


@dataclass(frozen=True, slots=True, kw_only=True)
class HolePlan:
    """One hole as its designer drew it."""

    number: int
    par: int
    stroke_index: int
    line: tuple[Place, ...]
    green_area_m2: float = 520.0
    green_stretch: float = 1.35
    green_angle_deg: float = 0.0  # long side against the line of play
    cup: Place = (0.0, 0.0)  # hole location from the middle of the green: onward, to the left
    fairway_from_m: float = 130.0
    tees_m: tuple[float, ...] = (24.0, 62.0)  # middle and forward tees from the back tee
    by_green: tuple[GreenBunker, ...] = ()
    by_fairway: tuple[FairwayBunker, ...] = field(default=())


HOLES: tuple[HolePlan, ...] = (
    HolePlan(
        number=1, par=4, stroke_index=11, line=((-30, -238), (-44, -60), (-26, 118)),
        cup=(3, 2), fairway_from_m=118,
        by_green=(GreenBunker(angle_deg=205, area_m2=64),),
        by_fairway=(FairwayBunker(from_tee_m=212, offset_m=-19),),
    ),
    HolePlan(
        number=2, par=4, stroke_index=5, line=((-74, 164), (-205, 266), (-432, 296)),
        green_area_m2=560, green_stretch=1.5, green_angle_deg=12, cup=(-4, -4), fairway_from_m=122,
        by_green=(GreenBunker(angle_deg=120, area_m2=72), GreenBunker(angle_deg=285, area_m2=58)),
        by_fairway=(FairwayBunker(from_tee_m=205, offset_m=20, area_m2=90), FairwayBunker(from_tee_m=232, offset_m=18),
                    FairwayBunker(from_tee_m=300, offset_m=-19, area_m2=66)),
    ),
    HolePlan(
        number=3, par=3, stroke_index=15, line=((-478, 284), (-499, 120)),
        green_area_m2=470, green_stretch=1.25, green_angle_deg=70, cup=(2, -3), tees_m=(15.0, 36.0),
        by_green=(GreenBunker(angle_deg=150, area_m2=66), GreenBunker(angle_deg=245, area_m2=80)),
    ),
    HolePlan(
        number=4, par=5, stroke_index=1, line=((-498, 66), (-484, -196), (-258, -290)),
        green_area_m2=600, green_stretch=1.45, green_angle_deg=-15, cup=(4, 3), tees_m=(30.0, 74.0), fairway_from_m=140,
        by_green=(GreenBunker(angle_deg=80, area_m2=70), GreenBunker(angle_deg=300, area_m2=62)),
        by_fairway=(FairwayBunker(from_tee_m=232, offset_m=22, area_m2=98), FairwayBunker(from_tee_m=262, offset_m=25),
                    FairwayBunker(from_tee_m=384, offset_m=-19, area_m2=82)),
    ),
    HolePlan(
        number=5, par=4, stroke_index=13, line=((-204, -264), (-188, -90), (-184, 84)),
        green_area_m2=430, green_stretch=1.3, green_angle_deg=80, cup=(-2, 3), fairway_from_m=125,
        by_green=(GreenBunker(angle_deg=165, area_m2=70), GreenBunker(angle_deg=230, area_m2=48)),
        by_fairway=(FairwayBunker(from_tee_m=226, offset_m=19),),
    ),
    HolePlan(
        number=6, par=4, stroke_index=9, line=((-240, 104), (-270, -60), (-286, -222)),
        green_area_m2=500, green_stretch=1.4, green_angle_deg=25, cup=(0, -4), fairway_from_m=120,
        by_green=(GreenBunker(angle_deg=110, area_m2=62),),
        by_fairway=(FairwayBunker(from_tee_m=196, offset_m=20), FairwayBunker(from_tee_m=250, offset_m=18, area_m2=58)),
    ),
    HolePlan(
        number=7, par=4, stroke_index=3, line=((-340, -206), (-364, -20), (-404, 142)),
        green_area_m2=560, green_stretch=1.4, green_angle_deg=62, cup=(2, -3), fairway_from_m=125,
        by_green=(GreenBunker(angle_deg=95, area_m2=74),),
        by_fairway=(FairwayBunker(from_tee_m=205, offset_m=20, area_m2=86),),
    ),
    HolePlan(
        number=8, par=3, stroke_index=17, line=((-386, 206), (-236, 204)),
        green_area_m2=450, green_stretch=1.35, green_angle_deg=35, cup=(-3, 2), tees_m=(14.0, 32.0),
        by_green=(GreenBunker(angle_deg=200, area_m2=78), GreenBunker(angle_deg=150, area_m2=56),
                  GreenBunker(angle_deg=60, area_m2=48)),
    ),
    HolePlan(
        number=9, par=4, stroke_index=7, line=((-126, 148), (-114, -60), (-92, -248)),
        green_area_m2=580, green_stretch=1.45, green_angle_deg=-10, cup=(3, -5), fairway_from_m=135,
        by_green=(GreenBunker(angle_deg=100, area_m2=68), GreenBunker(angle_deg=250, area_m2=64)),
        by_fairway=(FairwayBunker(from_tee_m=222, offset_m=19),),
    ),
    HolePlan(
        number=10, par=4, stroke_index=6, line=((98, -292), (300, -308), (486, -284)),
        green_area_m2=540, green_stretch=1.35, green_angle_deg=15, cup=(3, 3), fairway_from_m=150,
        by_green=(GreenBunker(angle_deg=85, area_m2=60), GreenBunker(angle_deg=215, area_m2=76)),
        by_fairway=(FairwayBunker(from_tee_m=218, offset_m=20, area_m2=88),),
    ),
    HolePlan(
        number=11, par=4, stroke_index=12, line=((506, -240), (474, -88), (492, 92)),
        green_area_m2=480, green_stretch=1.3, green_angle_deg=50, cup=(-3, -2), fairway_from_m=115,
        by_green=(GreenBunker(angle_deg=135, area_m2=66),),
        by_fairway=(FairwayBunker(from_tee_m=190, offset_m=19),),
    ),
    HolePlan(
        number=12, par=3, stroke_index=4, line=((502, 130), (450, 300)),
        green_area_m2=560, green_stretch=1.55, green_angle_deg=80, cup=(1, 5), tees_m=(17.0, 40.0),
        by_green=(GreenBunker(angle_deg=25, area_m2=62), GreenBunker(angle_deg=330, area_m2=70)),
    ),
    HolePlan(
        number=13, par=5, stroke_index=16, line=((408, 318), (150, 290), (12, 126)),
        cup=(-2, -3), tees_m=(28.0, 70.0), fairway_from_m=120,
        by_green=(GreenBunker(angle_deg=170, area_m2=58), GreenBunker(angle_deg=275, area_m2=66)),
        by_fairway=(FairwayBunker(from_tee_m=248, offset_m=20, area_m2=92), FairwayBunker(from_tee_m=362, offset_m=-20),
                    FairwayBunker(from_tee_m=392, offset_m=17, area_m2=60)),
    ),
    HolePlan(
        number=14, par=4, stroke_index=14, line=((98, 148), (250, 206), (390, 252)),
        green_area_m2=420, green_stretch=1.3, green_angle_deg=-30, cup=(2, 2), fairway_from_m=140,
        by_green=(GreenBunker(angle_deg=200, area_m2=72), GreenBunker(angle_deg=115, area_m2=60)),
        by_fairway=(FairwayBunker(from_tee_m=196, offset_m=18, area_m2=66),),
    ),
    HolePlan(
        number=15, par=4, stroke_index=2, line=((424, 200), (402, 0), (392, -214)),
        green_area_m2=570, green_stretch=1.4, green_angle_deg=20, cup=(-3, 4), tees_m=(28.0, 70.0), fairway_from_m=142,
        by_green=(GreenBunker(angle_deg=95, area_m2=74), GreenBunker(angle_deg=235, area_m2=58)),
        by_fairway=(FairwayBunker(from_tee_m=230, offset_m=-20, area_m2=84), FairwayBunker(from_tee_m=318, offset_m=18)),
    ),
    HolePlan(
        number=16, par=4, stroke_index=8, line=((334, -222), (274, -44), (290, 136)),
        green_area_m2=500, green_stretch=1.35, green_angle_deg=65, cup=(3, 2), fairway_from_m=128,
        by_green=(GreenBunker(angle_deg=150, area_m2=60),),
        by_fairway=(FairwayBunker(from_tee_m=214, offset_m=-20, area_m2=80),),
    ),
    HolePlan(
        number=17, par=3, stroke_index=18, line=((262, 162), (128, 104)),
        green_area_m2=440, green_stretch=1.3, green_angle_deg=-40, cup=(1, -3), tees_m=(13.0, 30.0),
        by_green=(GreenBunker(angle_deg=100, area_m2=62), GreenBunker(angle_deg=200, area_m2=54)),
    ),
    HolePlan(
        number=18, par=4, stroke_index=10, line=((104, 62), (172, -72), (58, -252)),
        green_area_m2=620, green_stretch=1.4, green_angle_deg=10, cup=(-4, 4), fairway_from_m=118,
        by_green=(GreenBunker(angle_deg=90, area_m2=66), GreenBunker(angle_deg=270, area_m2=72)),
        by_fairway=(FairwayBunker(from_tee_m=178, offset_m=-19), FairwayBunker(from_tee_m=300, offset_m=17, area_m2=62)),
    ),
)  # fmt: skip

DOUBLE_GREEN = (1, 13)
