"""Words that options of commands can be."""

from __future__ import annotations

from enum import StrEnum


class SideFormat(StrEnum):
    """What a comparison of rules is printed as."""

    TEXT = "text"
    JSON = "json"


class SheetFormat(StrEnum):
    """What a sheet for paper is printed as."""

    TEXT = "text"
    HTML = "html"


class FailOn(StrEnum):
    """What makes the exit status differ from 0."""

    OPEN = "open"
    CORRECTION = "correction"


class StageName(StrEnum):
    """The stages of a job."""

    PLAN_REVIEW = "plan_review"
    INSTALLATION = "installation"
    ACCEPTANCE = "acceptance"
    IN_SERVICE = "in_service"


class BasisName(StrEnum):
    """What changes can rest on."""

    LAW = "law"
    ADOPTED_STANDARD = "adopted_standard"
    LISTING_OR_INSTRUCTIONS = "listing_or_instructions"
    WRITTEN_POLICY = "written_policy"
    LOCAL_PRACTICE = "local_practice"


class JobName(StrEnum):
    """The jobs for which there is a site file to begin with."""

    WHOLE_HOUSE = "whole_house"
    BEHIND_DISCONNECT = "behind_disconnect"
    PART_OF_HOUSE = "part_of_house"
    PORTABLE_INLET = "portable_inlet"
    MANAGED_LOADS = "managed_loads"


class PlaceName(StrEnum):
    """Whether a service is there already."""

    EXISTING = "existing"
    NEW = "new"


class RoleName(StrEnum):
    """What a transfer switch can be, as the first disconnect after the meter."""

    SERVICE_DISCONNECT = "service_disconnect"
    EMERGENCY_DISCONNECT = "emergency_disconnect"
    NOT_KNOWN = "not_known"


class ClassName(StrEnum):
    """The classes of load that a site file can begin with, the likeliest first."""

    OPTIONAL = "optional"
    LEGALLY_REQUIRED = "legally_required"
    EMERGENCY = "emergency"
    NOT_KNOWN = "not_known"


class EventName(StrEnum):
    """The events whose date can decide which rules count."""

    PERMIT_APPLICATION = "permit_application"
    PLAN_SUBMISSION = "plan_submission"
    PERMIT_ISSUE = "permit_issue"
    WORK_START = "work_start"
    OCCUPANCY = "occupancy"
    ENGINE_BUILT = "engine_built"


class MayName(StrEnum):
    """What an authority may do to the rules below it."""

    ANYTHING = "anything"
    TIGHTEN = "tighten"
    EASE = "ease"
    NOTHING = "nothing"


class RevisionFormat(StrEnum):
    """What a comparison of sites is printed as."""

    TEXT = "text"
    JSON = "json"
    HTML = "html"
