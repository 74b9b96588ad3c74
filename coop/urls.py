from django.contrib import admin
from django.urls import include, path

urlpatterns = [
    path("api/v1/", include("api.urls")),
    path("admin/", admin.site.urls),
]

handler400 = "api.errors.bad_request"
handler403 = "api.errors.forbidden"
handler404 = "api.errors.nowhere"
handler500 = "api.errors.fault"
